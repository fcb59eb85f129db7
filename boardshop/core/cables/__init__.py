"""Runs over the frame, the lengths to cut for them, and the stock to cut them from."""

from boardshop.core.cables.cut_plan import CutPlan, UsedLength, plan_cuts
from boardshop.core.cables.runs import MeasuredRun, link_capacitances, measure_runs
from boardshop.core.cables.section import CablesSection, Run, compute_cables, count_parts, list_runs

__all__ = [
    "CablesSection",
    "CutPlan",
    "MeasuredRun",
    "Run",
    "UsedLength",
    "compute_cables",
    "count_parts",
    "link_capacitances",
    "list_runs",
    "measure_runs",
    "plan_cuts",
]
