"""Lengths to cut that differ."""

from __future__ import annotations

from collections.abc import Iterator

from boardshop.core.cables import MeasuredRun, measure_runs
from boardshop.core.diff.difference import Difference
from boardshop.core.index import fold
from boardshop.core.plan import BoardPlan


def compare_cuts(before: BoardPlan, after: BoardPlan) -> tuple[Difference, ...]:
    """Links of both plans that are to be cut to another length, in the later plan's order; ``re-cut``."""
    return tuple(_compare(before, after))


def _compare(before: BoardPlan, after: BoardPlan) -> Iterator[Difference]:
    old = {fold(run.link.ref): run for run in measure_runs(before)}
    new = {fold(run.link.ref): run for run in measure_runs(after)}
    for key, run in new.items():
        was, now = _say_cut(old.get(key)), _say_cut(run)
        if was != now:
            yield Difference("re-cut", (run.link.ref,), _say_other_cut(run, old.get(key), was, now))
    for key, run in old.items():
        if key not in new and (was := _say_cut(run)) != _say_cut(None):
            yield Difference("re-cut", (run.link.ref,), f"{run.link.ref}: nothing to cut, before {was}.")
    total, former = (sum(run.cut_mm or 0 for run in runs.values() if run.is_cut) for runs in (new, old))
    if total != former:
        words = f"Lengths to cut, as far as known, come to {total} mm instead of {former} mm."
        yield Difference("re-cut", (), words)


def _say_other_cut(run: MeasuredRun, old: MeasuredRun | None, was: str, now: str) -> str:
    both = (run, old) if old is not None else (run,)
    if len(both) == 2 and all(one.is_cut and one.cut_mm is not None and not one.blocked_by for one in both):
        return f"{run.link.ref} is to be cut {run.cut_mm} mm instead of {both[1].cut_mm} mm."
    return f"{run.link.ref}: {now}, before {was}."


def _say_cut(run: MeasuredRun | None) -> str:
    if run is None or not run.is_cut:
        return "nothing to cut"
    if run.blocked_by:
        return f"blocked by {', '.join(run.blocked_by)}"
    return "to be cut to an unknown length" if run.cut_mm is None else f"to be cut {run.cut_mm} mm"
