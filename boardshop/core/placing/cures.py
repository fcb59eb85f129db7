"""What would let all fit: a turn allowed, a flatter plug, a pedal less or another frame, least first."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

from boardshop.core.index import fold, index_plan
from boardshop.core.naming import called, say_all
from boardshop.core.placing.answers import (
    USUAL_WISHES,
    Cure,
    NamedFrame,
    Placing,
    Progress,
    Watch,
    Wishes,
)
from boardshop.core.placing.frames import choose_frames
from boardshop.core.placing.proposal import propose_layout
from boardshop.core.plan import BoardPlan, Link, PlugType, Turn

EVERY_TURN: tuple[Turn, ...] = (0, 90, 180, 270)
TRY_SECONDS = 2
"""The work of one try; a cure that needs more is not found."""
MOST_TURNED = 6
"""So many pedals at most are tried in other turns."""


def find_cures(
    plan: BoardPlan,
    placing: Placing,
    frames: Sequence[NamedFrame],
    wishes: Wishes = USUAL_WISHES,
    watch: Watch | None = None,
) -> tuple[Cure, ...]:
    """Changes with each of which all pedals were placed; none where all are placed already.

    Leaving out those of ``placing`` is always among them.  What is not found may still be possible.
    """
    if not placing.left_out:
        return ()
    search = _Trial(plan, replace(wishes, seconds=min(wishes.seconds, TRY_SECONDS)), watch)
    cures = [*_allow_turns(search, placing), *_flatten_plugs(search)]
    names = say_all(called(index_plan(plan), ref) for ref in placing.left_out)
    them = "it" if len(placing.left_out) == 1 else "them"
    cures.append(
        Cure("leave out", placing.left_out[0], f"Leave out {names}: without {them} the rest fits.", placing)
    )
    return (*cures, *_larger_frames(search, frames))


@dataclass
class _Trial:
    plan: BoardPlan
    wishes: Wishes
    watch: Watch | None
    is_stopped: bool = False

    def place_all(self, plan: BoardPlan) -> Placing | None:
        """A placing of everything on the changed plan; None where none was found."""
        if self.is_stopped:
            return None
        found = propose_layout(plan, self.wishes, self.look)
        is_whole = not found.left_out and len(found.reserved) == len(self.wishes.reserved)
        return found if is_whole else None

    def look(self, progress: Progress) -> bool:
        if self.watch is not None and not self.is_stopped:
            self.is_stopped = not self.watch(progress)
        return not self.is_stopped


def _allow_turns(trial: _Trial, placing: Placing) -> Iterator[Cure]:
    """One pedal may stand any way round: those that were left out are tried before the others."""
    plan = trial.plan
    bound = [p for p in plan.pedals if not p.treadle and not p.pinned and set(p.turns) < set(EVERY_TURN)]
    for pedal in sorted(bound, key=lambda one: one.ref not in placing.left_out)[:MOST_TURNED]:
        freed = replace(pedal, turns=EVERY_TURN)
        pedals = tuple(freed if one.ref == pedal.ref else one for one in plan.pedals)
        found = trial.place_all(replace(plan, pedals=pedals))
        turn = dict(found.places)[pedal.ref].turn if found else 0
        if found is not None and turn not in pedal.turns:
            name = called(index_plan(plan), pedal.ref)
            yield Cure("turn", pedal.ref, f"Allow {name} to stand turned by {turn}°: then all fit.", found)
            return


def _flatten_plugs(trial: _Trial) -> Iterator[Cure]:
    """All plugs of one type give way to the flattest of the same connector on the board's list."""
    plan = trial.plan
    used = {fold(ref) for link in plan.links for ref in (link.plug_from, link.plug_to) if ref}
    for plug in plan.plugs:
        flatter = _flattest(plan, plug)
        if fold(plug.ref) not in used or flatter is None:
            continue
        links = tuple(_replug(link, plug.ref, flatter.ref) for link in plan.links)
        found = trial.place_all(replace(plan, links=links))
        if found is not None:
            sentence = (
                f"Take the plug {flatter.name or flatter.ref} ({flatter.reach} mm) in place of "
                f"{plug.name or plug.ref} ({plug.reach} mm): then all fit."
            )
            yield Cure("plug", plug.ref, sentence, found)


def _flattest(plan: BoardPlan, plug: PlugType) -> PlugType | None:
    if plug.reach is None:
        return None
    others = [
        (one.reach, one.ref, one)
        for one in plan.plugs
        if one.connector == plug.connector and one.reach is not None and one.width is not None
    ]
    reach, _, flattest = min(others, default=(plug.reach, "", plug))
    return flattest if reach < plug.reach else None


def _replug(link: Link, old: str, new: str) -> Link:
    def other(ref: str | None) -> str | None:
        return new if ref is not None and fold(ref) == fold(old) else ref

    return replace(link, plug_from=other(link.plug_from), plug_to=other(link.plug_to))


def _larger_frames(trial: _Trial, frames: Sequence[NamedFrame]) -> Iterator[Cure]:
    """The smallest frame of the catalogue on which all were placed."""
    now = trial.plan.frame
    larger = [one for one in frames if one.frame.width * one.frame.depth > now.width * now.depth]
    if trial.is_stopped:
        return
    for answer in choose_frames(trial.plan, larger, trial.wishes, trial.look, enough=1):
        named = answer.named
        size = f"{named.frame.width} × {named.frame.depth} mm"
        yield Cure(
            "frame", named.name, f"Take the frame {named.name} ({size}): all fit on it.", answer.placing
        )
