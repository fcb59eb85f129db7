"""What the cables page says of the made cable on a link: its id, its test, its reach, when it is due."""

from __future__ import annotations

from dataclasses import dataclass

from django.utils import timezone

from boardshop.boards.sheet import BoardSheet
from boardshop.core.cables.made import Reach, list_reaches
from boardshop.core.cables.retest import Retest
from boardshop.core.index import fold
from boardshop.core.plan import Link
from boardshop.gear.made_cables import retest_of
from boardshop.gear.models import MadeCable


@dataclass(frozen=True)
class MadeOn:
    """The cable of the register that a link is made of; `reach` is None for a lead of given length."""

    code: str
    test: str
    reach: Reach | None
    retest: Retest

    @property
    def is_alarming(self) -> bool:
        """Whether somebody should look at it before the next show."""
        return self.retest.is_due or (self.reach is not None and self.reach.state == "too short")


def list_made(sheet: BoardSheet) -> dict[str, MadeOn]:
    """By a link's folded ref, in one query; none where no link has a made cable."""
    links = [link for link in sheet.plan.links if link.made_id is not None]
    if not links:
        return {}
    rows = MadeCable.objects.filter(links__board=sheet.board).select_related("plug_a", "plug_b")
    cables = {row.code: row for row in rows}
    reaches = list_reaches(sheet.plan)
    return {
        fold(link.ref): _made_on(link, cables[link.made_id], reaches.get(fold(link.ref)))
        for link in links
        if link.made_id in cables
    }


def can_have_one(link: Link) -> bool:
    """A USB lead is bought."""
    return link.carries != "usb"


def _made_on(link: Link, cable: MadeCable, reach: Reach | None) -> MadeOn:
    retest = retest_of(cable, timezone.localdate())
    return MadeOn(cable.code, link.made_test or "", reach, retest)
