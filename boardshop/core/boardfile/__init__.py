"""The board file: one JSON document to a frozen plan and back."""

from boardshop.core.boardfile.dumping import dump_feed, dump_plan
from boardshop.core.boardfile.faults import Fault, RefusedBoardFile
from boardshop.core.boardfile.loading import load_plan_text

__all__ = ["Fault", "RefusedBoardFile", "dump_feed", "dump_plan", "load_plan_text"]
