"""The register of made cables as its pages show it: each cable with where it is and when it is due."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from django.db.models import F, OuterRef, Prefetch, Q, QuerySet, Subquery
from django.db.models.fetch_modes import FETCH_RAISE
from django.utils import timezone
from django.utils.translation import gettext as _

from boardshop.boards.models import CableStay, Link
from boardshop.core.cables.failures import CableRecord, Failures, FaultRecord, count_failures
from boardshop.core.cables.retest import Retest
from boardshop.crew.codes import clean_code
from boardshop.crew.models import Shop
from boardshop.gear.made_cables import retest_of
from boardshop.gear.models import CableFault, CableTest, MadeCable

LEAD_PLACES = ("first", "last")
"""Places in the chain where a cable is an instrument's or amp's lead."""
VERDICT_WORDS = {"": "not tested", "incomplete": "not wholly tested"}


@dataclass(frozen=True)
class CableRow:
    """`place` is board, spare, bench or scrap; `link` is where it is when that is a board."""

    cable: MadeCable
    place: str
    link: Link | None
    retest: Retest

    @property
    def where(self) -> str:
        """`W3 of board Nightjar main`, `spare, case 2`."""
        if self.link is not None:
            return self.link.described_use()
        return ", ".join(filter(None, (_(self.place), self.cable.where)))

    @property
    def verdict(self) -> str:
        return _(VERDICT_WORDS.get(self.cable.verdict, self.cable.verdict))

    @property
    def is_due(self) -> bool:
        """One on the scrap is not tested any more."""
        return self.place != "scrap" and (self.retest.is_due or self.retest.is_worn)


def read_cables(shop: Shop) -> QuerySet[MadeCable]:
    """All of the register, newest first, with everything that `row_of` reads; three queries in all."""
    tests, faults = (
        CableTest.objects.filter(cable=OuterRef("pk")),
        CableFault.objects.filter(cable=OuterRef("pk")),
    )
    last = F("show").desc(nulls_last=True)
    links = Link.objects.select_related("board")
    return (
        MadeCable.objects.filter(shop=shop)
        .select_related("cable", "plug_a", "plug_b")
        .prefetch_related(
            Prefetch("links", links, to_attr="on_links"),
            Prefetch("stays", CableStay.objects.filter(until=None), to_attr="stays_now"),
        )
        .annotate(
            tested_show=Subquery(tests.filter(on=OuterRef("tested_on")).order_by("-pk").values("show")[:1]),
            test_show=Subquery(tests.order_by(last).values("show")[:1]),
            fault_show=Subquery(faults.order_by(last).values("show")[:1]),
        )
        .order_by("-pk")
        .fetch_mode(FETCH_RAISE)
    )


def row_of(cable: Any, today: date) -> CableRow:
    """`cable` is one of `read_cables`."""
    link = cable.on_links[0] if cable.on_links else None
    stay: CableStay | None = cable.stays_now[0] if cable.stays_now else None
    lead = stay if link is not None and stay is not None and stay.chain_place in LEAD_PLACES else None
    retest = retest_of(
        cable,
        today,
        shows_since=_shows_since(cable),
        lead_since=timezone.localdate(lead.since) if lead else None,
    )
    place = "scrap" if cable.is_scrapped else "board" if link else cable.place
    return CableRow(cable, place, link, retest)


def list_cables(shop: Shop, wanted: dict[str, str], today: date) -> list[CableRow]:
    """What the list shows; `wanted` as `FindCableForm` gives it."""
    cables = _found(read_cables(shop), wanted)
    rows = [row_of(cable, today) for cable in cables]
    return [row for row in rows if row.is_due] if wanted.get("due") else rows


def _found(cables: QuerySet[MadeCable], wanted: dict[str, str]) -> QuerySet[MadeCable]:
    place, verdict, find = wanted.get("place"), wanted.get("verdict"), wanted.get("find")
    cables = cables.filter(scrapped_on__isnull=place != "scrap")
    if place == "board":
        cables = cables.filter(links__isnull=False)
    elif place in ("spare", "bench"):
        cables = cables.filter(links__isnull=True, place=place)
    if verdict:
        cables = cables.filter(verdict="" if verdict == "none" else verdict)
    if wanted.get("type"):
        cables = cables.filter(cable__name=wanted["type"])
    return cables.filter(_says(find)) if find else cables


def _says(text: str) -> Q:
    """An id or its beginning, a place, the name of a board, a reel, who made it."""
    found = Q(where__icontains=text) | Q(reel__icontains=text) | Q(made_by__icontains=text)
    found |= Q(links__board__name__icontains=text)
    code = clean_code(text)
    return found | Q(code__startswith=code) if code else found


def _shows_since(cable: Any) -> int | None:
    """Shows from the last test to the last show that anything was recorded of; None where shows were not."""
    known = [int(show) for show in (cable.test_show, cable.fault_show) if show is not None]
    if cable.tested_show is None or not known:
        return None
    since: int = max(known) - cable.tested_show
    return max(0, since)


def count_shop_failures(shop: Shop) -> Failures:
    """Of all cables the shop ever made, scrapped ones too, in three queries."""
    cables = MadeCable.objects.filter(shop=shop).values_list("code", "plug_a__name", "plug_b__name")
    stays = CableStay.objects.filter(cable__shop=shop).order_by().values_list("cable__code", "chain_place")
    been: dict[str, set[str]] = {}
    for code, place in stays.distinct():
        been.setdefault(code, set()).add(place)
    faults = CableFault.objects.filter(cable__shop=shop).order_by("pk")
    return count_failures(
        [CableRecord(code, a or "", b or "", tuple(sorted(been.get(code, ())))) for code, a, b in cables],
        [FaultRecord(*row) for row in faults.values_list("cable__code", "end", "cause", "chain_place")],
    )
