"""Whether the working copy is what is on stage."""

from __future__ import annotations

from dataclasses import dataclass

from boardshop.boards.access import last_released
from boardshop.boards.models import Revision
from boardshop.boards.services.revisions import plan_of, without_stock
from boardshop.boards.sheet import BoardSheet
from boardshop.core.diff import Difference, compare_plans


@dataclass(frozen=True)
class Standing:
    """The last released revision and how the working copy differs from it; no revision = never released."""

    revision: Revision | None
    differences: tuple[Difference, ...]

    @property
    def differs(self) -> bool:
        return self.revision is None or bool(self.differences)


def compare_with_released(sheet: BoardSheet) -> Standing:
    """In one query; what lies in the shop's stock and drawer is no difference of the board."""
    revision = last_released(sheet.board)
    if revision is None:
        return Standing(None, ())
    released, now = (without_stock(plan) for plan in (plan_of(revision), sheet.plan))
    return Standing(revision, () if released == now else compare_plans(released, now))
