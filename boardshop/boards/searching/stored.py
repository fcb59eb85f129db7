"""How a search is written into its row: wishes, frames of the catalogue, placings and cures, as JSON."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from boardshop.boards.plan.frames import frame_columns, frame_value
from boardshop.boards.plan.stored import Row
from boardshop.core.defaults import fill_frame
from boardshop.core.layout.geometry import Box
from boardshop.core.placing import Placing, Wishes
from boardshop.core.plan import Frame, Place
from boardshop.gear.models import FrameModel

type Written = dict[str, Any]


@dataclass(frozen=True, slots=True)
class CatalogueFrame:
    """A frame as the catalogue had it: its model's key, its `shape`, and that with defaults filled in."""

    name: str
    model: int
    shape: Frame
    filled: Frame


@dataclass(frozen=True, slots=True)
class Answer:
    """One placing to choose; `frame` is the number of the catalogue's frame that it lies on, if it is one."""

    placing: Placing
    frame: int | None = None


@dataclass(frozen=True, slots=True)
class Cure:
    """What would help those that are left out: `kind` is `leave out`, `turn`, `plug` or `frame`."""

    kind: str
    subject: str
    sentence: str
    placing: Placing


@dataclass(frozen=True, slots=True)
class Answers:
    """What a search found, best first, and what would help those that are left out, least first."""

    placings: tuple[Answer, ...] = ()
    cures: tuple[Cure, ...] = ()


def write_wishes(wishes: Wishes) -> Written:
    return asdict(wishes)


def read_wishes(written: Written) -> Wishes:
    rooms = tuple((width, depth) for width, depth in written["reserved"])
    return Wishes(written["seconds"], written["seed"], tuple(written["staying"]), rooms)


def write_frames(models: Iterable[FrameModel]) -> list[Written]:
    """The catalogue as it is now; each frame with the key of its model."""
    return [
        {"model": model.pk, "name": str(model), "frame": frame_columns(frame_value(model))}
        for model in models
    ]


def read_frames(written: Iterable[Written]) -> list[CatalogueFrame]:
    shapes = [(one, frame_value(Row(**one["frame"]))) for one in written]
    return [CatalogueFrame(one["name"], one["model"], shape, fill_frame(shape)) for one, shape in shapes]


def write_placing(placing: Placing) -> Written:
    return {
        **asdict(placing),
        "places": [[ref, place.x, place.y, place.turn] for ref, place in placing.places],
        "reserved": [[box.x0, box.y0, box.x1, box.y1] for box in placing.reserved],
    }


def read_placing(written: Written) -> Placing:
    values = written | {
        "places": tuple((ref, Place(x, y, turn)) for ref, x, y, turn in written["places"]),
        "left_out": tuple(written["left_out"]),
        "reserved": tuple(Box(*corners) for corners in written["reserved"]),
    }
    return Placing(**values)


def write_answers(answers: Answers) -> Written:
    return {
        "placings": [{"placing": write_placing(one.placing), "frame": one.frame} for one in answers.placings],
        "cures": [
            {
                "kind": cure.kind,
                "subject": cure.subject,
                "sentence": cure.sentence,
                "placing": write_placing(cure.placing),
            }
            for cure in answers.cures
        ],
    }


def read_answers(written: Written) -> Answers:
    """Of a row that has none yet too."""
    placings: Sequence[Written] = written.get("placings", ())
    cures: Sequence[Written] = written.get("cures", ())
    return Answers(
        tuple(Answer(read_placing(one["placing"]), one["frame"]) for one in placings),
        tuple(
            Cure(one["kind"], one["subject"], one["sentence"], read_placing(one["placing"])) for one in cures
        ),
    )
