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
            yield Difference("re-cut", (run.link.ref,), f"{run.link.ref}: {now}, before {was}.")
    for key, run in old.items():
        if key not in new and (was := _say_cut(run)) != _say_cut(None):
            yield Difference("re-cut", (run.link.ref,), f"{run.link.ref}: nothing to cut, before {was}.")


def _say_cut(run: MeasuredRun | None) -> str:
    if run is None or not run.is_cut:
        return "nothing to cut"
    if run.blocked_by:
        return f"blocked by {', '.join(run.blocked_by)}"
    return "to be cut to an unknown length" if run.cut_mm is None else f"to be cut {run.cut_mm} mm"
