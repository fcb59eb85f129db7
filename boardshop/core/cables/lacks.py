"""What runs need and nobody recorded: each said once, all things that lack the same together."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from boardshop.core.cables.rules import cable_finding
from boardshop.core.findings import Finding
from boardshop.core.index import PlanIndex
from boardshop.core.naming import called, say_all


@dataclass(frozen=True, slots=True)
class Lack:
    """``kind`` is a key of ``LACKS``; ``subject`` what lacks it: a ref, a jack, or `W3 at P4.IN`."""

    kind: str
    subject: str


LACKS: dict[str, tuple[str, str, str]] = {
    "place": (
        "C01",
        "No place on the frame is recorded for {}, so no run there is measured.",
        "Place it.",
    ),
    "jack": (
        "C01",
        "Side and offset of {} are not recorded, so no run there is measured.",
        "Record the jack's side and measure its offset along that side.",
    ),
    "plug": (
        "C01",
        "No plug type is chosen for {}, so neither run nor cut is worked out.",
        "Choose the plug type.",
    ),
    "reach": (
        "C01",
        "How far a mated plug {} stands out is not recorded, so its runs are not measured.",
        "Measure the plug's reach from the jack's face.",
    ),
    "inside": (
        "C01",
        "How much cable plug {} takes in is not recorded, so no cut with it is worked out.",
        "Measure five of them and store the mean.",
    ),
    "cable": (
        "C01",
        "No cable type is chosen for {}, so its capacitance and its bends are not known.",
        "Choose the cable type.",
    ),
    "bend": (
        "C01",
        "Neither bend radius nor diameter of cable {} is recorded, so a run with corners has no cut.",
        "Measure the cable's diameter.",
    ),
    "capacitance": (
        "C01",
        "The capacitance per metre of cable {} is not recorded, so no run made of it has any.",
        "Take the value printed on the reel, or measure a metre.",
    ),
    "far end": (
        "C01",
        "No length is recorded for {}, towards a computer, which has no place on the frame.",
        "Record the cable's length.",
    ),
    "lead": (
        "C11",
        "No length is recorded for {}, towards an instrument or amp: only the run up to where it meets "
        "the frame is counted.",
        "Record the lead's whole length.",
    ),
}
"""By what is missing: the rule, what it means (with the names put in), and how to get it."""


def say_lacks(index: PlanIndex, lacks: Iterable[Lack]) -> Iterator[Finding]:
    """One finding for each kind of lack."""
    wanting: dict[str, list[str]] = {}
    for lack in dict.fromkeys(lacks):
        wanting.setdefault(lack.kind, []).append(lack.subject)
    for kind, subjects in wanting.items():
        rule, message, cure = LACKS[kind]
        names = say_all(called(index, subject) for subject in subjects)
        refs = tuple(dict.fromkeys(word for subject in subjects for word in subject.split(" at ")))
        yield cable_finding(rule, refs, message.format(names), cure)
