"""Grounds: how many loops there are and where, what opens them, and the earth that is never lifted."""

from boardshop.core.grounds.cures import Cure, list_cures
from boardshop.core.grounds.graph import GroundGraph, Join, Recount, map_grounds, recount_without
from boardshop.core.grounds.section import GroundsSection, RunningLoop, compute_grounds, trace_loops

__all__ = [
    "Cure",
    "GroundGraph",
    "GroundsSection",
    "Join",
    "Recount",
    "RunningLoop",
    "compute_grounds",
    "list_cures",
    "map_grounds",
    "recount_without",
    "trace_loops",
]
