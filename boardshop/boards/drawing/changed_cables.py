"""Cables on a comparison: what their pennants say, and the runs of those that are gone."""

from __future__ import annotations

from collections.abc import Sequence

from django.utils.translation import gettext as _

from boardshop.boards.drawing.pens import GHOST
from boardshop.boards.drawing.runs import DrawnRun, Label, draw_run, draw_run_flag, place_flags
from boardshop.boards.drawing.shapes import Area, Shape
from boardshop.boards.drawing.signs import CUT, GONE, NEW, WIRED
from boardshop.boards.drawing.words import Obstacle
from boardshop.core.cables.runs import MeasuredRun, measure_runs
from boardshop.core.diff import Difference, find_other_cuts
from boardshop.core.index import fold
from boardshop.core.lengths import length_figure
from boardshop.core.plan import BoardPlan


def label_cables(
    before: BoardPlan, after: BoardPlan, differences: Sequence[Difference], length_unit: str
) -> dict[str, Label]:
    """By folded ref, the cables that are new, gone, wired otherwise or to be cut otherwise.

    ``differences`` are those of compare_plans; every length is one that core says is to be cut.
    """
    old, new = ({fold(link.ref): link for link in plan.links} for plan in (before, after))
    told = {fold(ref) for one in differences if one.kind == "re-wired" for ref in one.subjects}
    was, now = ({fold(run.link.ref): run for run in measure_runs(plan)} for plan in (before, after))
    cuts = {fold(one.ref) for one in find_other_cuts(before, after)}
    labels = {}
    for key, link in (old | new).items():
        if key not in old:
            labels[key] = Label(_with_length(link.ref, now.get(key), length_unit), NEW, is_double=True)
        elif key not in new:
            labels[key] = Label(_with_length(link.ref, was.get(key), length_unit), GONE)
        elif key in cuts:
            figures = _both_lengths(was.get(key), now.get(key), length_unit)
            labels[key] = Label(f"{link.ref} {figures}", (WIRED if key in told else "") + CUT)
        elif key in told:
            labels[key] = Label(link.ref, WIRED)
    return labels


def _with_length(ref: str, run: MeasuredRun | None, unit: str) -> str:
    """`W7 310 mm`; the ref alone of a cable that is not to be cut."""
    return f"{ref} {_say_length(run, unit)}" if run is not None and run.is_cut else ref


def _both_lengths(was: MeasuredRun | None, now: MeasuredRun | None, unit: str) -> str:
    """`230 › 310 mm`, the unit once where both are lengths."""
    said = [_say_length(run, unit) for run in (was, now)]
    end = f" {unit}"
    if all(words.endswith(end) for words in said):
        said[0] = said[0].removesuffix(end)
    return " › ".join(said)


def _say_length(run: MeasuredRun | None, unit: str) -> str:
    if run is None or not run.is_cut:
        return _("not cut")
    if run.blocked_by:
        return _("blocked")
    return _("length unknown") if run.cut_mm is None else f"{length_figure(run.cut_mm, unit)} {unit}"


def draw_gone_runs(runs: Sequence[DrawnRun], unit: float) -> list[Shape]:
    """Where they were, dashed."""
    return [draw_run(run, unit, None, GHOST) for run in runs]


def draw_gone_flags(runs: Sequence[DrawnRun], unit: float, room: Area, taken: list[Obstacle]) -> list[Shape]:
    """Their pennants, which are added to what is taken."""
    flags = place_flags(runs, unit, taken, room)
    taken += [(_grown(flag.area, unit), 3.0) for flag in flags]
    return [draw_run_flag(*pair, unit, None, None) for pair in zip(runs, flags, strict=True)]


def _grown(area: Area, unit: float) -> Area:
    return area.grown(0.4 * unit)
