"""Lengths to cut that differ."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from boardshop.core.cables import MeasuredRun, measure_runs
from boardshop.core.diff.difference import Difference
from boardshop.core.index import fold
from boardshop.core.plan import BoardPlan


@dataclass(frozen=True, slots=True)
class OtherCut:
    """A link that is to be cut otherwise: its run in both plans, None where a plan has none to measure."""

    ref: str
    was: MeasuredRun | None
    now: MeasuredRun | None


def find_other_cuts(before: BoardPlan, after: BoardPlan) -> tuple[OtherCut, ...]:
    """In the later plan's order, then those of the former alone; ``ref`` as the later plan spells it."""
    old, new = _by_ref(before), _by_ref(after)
    found = [OtherCut(run.link.ref, old.get(key), run) for key, run in new.items()]
    found += [OtherCut(run.link.ref, run, None) for key, run in old.items() if key not in new]
    return tuple(one for one in found if _say_cut(one.was) != _say_cut(one.now))


def compare_cuts(before: BoardPlan, after: BoardPlan) -> tuple[Difference, ...]:
    """Links of both plans that are to be cut to another length, in the later plan's order; ``re-cut``."""
    return tuple(_compare(before, after))


def _compare(before: BoardPlan, after: BoardPlan) -> Iterator[Difference]:
    for one in find_other_cuts(before, after):
        yield Difference("re-cut", (one.ref,), _say_other_cut(one))
    total, former = (sum(run.cut_mm or 0 for run in measure_runs(p) if run.is_cut) for p in (after, before))
    if total != former:
        words = f"Lengths to cut, as far as known, come to {total} mm instead of {former} mm."
        yield Difference("re-cut", (), words)


def _by_ref(plan: BoardPlan) -> dict[str, MeasuredRun]:
    return {fold(run.link.ref): run for run in measure_runs(plan)}


def _say_other_cut(one: OtherCut) -> str:
    if _is_known(one.was) and _is_known(one.now) and one.was and one.now:
        return f"{one.ref} is to be cut {one.now.cut_mm} mm instead of {one.was.cut_mm} mm."
    return f"{one.ref}: {_say_cut(one.now)}, before {_say_cut(one.was)}."


def _is_known(run: MeasuredRun | None) -> bool:
    return run is not None and run.is_cut and run.cut_mm is not None and not run.blocked_by


def _say_cut(run: MeasuredRun | None) -> str:
    if run is None or not run.is_cut:
        return "nothing to cut"
    if run.blocked_by:
        return f"blocked by {', '.join(run.blocked_by)}"
    return "to be cut to an unknown length" if run.cut_mm is None else f"to be cut {run.cut_mm} mm"
