"""The cut list of one board: every cable by its kind, the plan of what is to cut, finished cables beside."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal
from typing import Any
from urllib.parse import urlencode

from django.utils.translation import gettext_lazy

from boardshop.bench.cut_work import Asked, CutWork, gather_cuts, key_of
from boardshop.bench.pages.cut_plan import describe_work
from boardshop.boards.pages.cable_words import DC_WORDS, STATE_WORDS, PlugLine, plugs_of, say_kind
from boardshop.boards.pages.findings import list_findings
from boardshop.boards.pages.page import Page, PageState
from boardshop.boards.sheet import BoardSheet
from boardshop.core.cables.cut_cost import Cost, cost_of_cuts
from boardshop.core.cables.cut_list import ListedCable, list_cables, list_dc_leads
from boardshop.core.cables.ready_made import ReadyMade, choose_ready_made
from boardshop.core.drawer import say_spare
from boardshop.core.index import fold, index_plan
from boardshop.core.naming import called
from boardshop.crew.models import Shop
from boardshop.gear import models as gear

WHY_WORDS = {
    "unknown length": gettext_lazy("its length is not known"),
    "unknown plugs": gettext_lazy("neither jack nor plug is recorded"),
    "no such plugs": gettext_lazy("none in the list has its plugs"),
    "too short": gettext_lazy("none in the list reaches"),
    "too long": gettext_lazy("the shortest that reaches is far too long"),
}


@dataclass(frozen=True)
class CableLine:
    """One cable of the list; `state` says whether it is cut, made or there, or why it is not known."""

    cable: ListedCable
    what: str
    type_name: str
    labels: tuple[str, ...]
    plugs: tuple[PlugLine, ...]
    state: str
    is_too_short: bool = False
    """It was cut for a shorter run."""


@dataclass(frozen=True)
class NoneLine:
    """A run that no finished cable serves."""

    ref: str
    needed_mm: int | None
    why: str


@dataclass(frozen=True)
class CostLine:
    """A cost in the shop's currency; `unpriced` are names of what has no price."""

    known: Decimal
    unpriced: str


def build_cut_list(sheet: BoardSheet, state: PageState) -> dict[str, Any]:
    board, plan = sheet.board, sheet.plan
    work = gather_cuts(board.shop, Asked([board]), plans=[plan])
    answer = choose_ready_made(plan, read_offers(board.shop))
    cuts = [run.ref for run in sheet.cables.runs]
    return {
        **describe_work(work),
        "cut_already": urlencode({"cut": " ".join(one.ref for one in work.left_out if one.still_fits)}),
        "lines": _lines(sheet, work),
        "dc_leads": [(lead, DC_WORDS[lead.comes], _lead_words(lead.lead)) for lead in list_dc_leads(plan)],
        "ready": answer,
        "none_fit": [
            NoneLine(one.ref, one.needed_mm, str(WHY_WORDS[one.why]))
            for one in answer.choices
            if one.offer is None
        ],
        "more_pf": [(one.ref, one.more_pf) for one in answer.choices if one.offer is not None],
        "cost_all": _cost(sheet, cost_of_cuts(plan, cuts)),
        "cost_cut": _cost(sheet, answer.cut),
        "cost_bought": _cost(sheet, answer.bought),
        "cost_to_pay": _cost(sheet, answer.to_pay),
        "findings": list_findings(plan, sheet.findings_of("cables"), state),
        "steps": None,
    }


def read_offers(shop: Shop) -> Sequence[ReadyMade]:
    """The shop's finished cables as the core reads them, in one query."""
    return [
        ReadyMade(
            name=row.name,
            length=row.length,
            connector=row.connector or None,
            far_connector=row.far_connector or None,
            pf_per_m=row.pf_per_m,
            price=None if row.price is None else float(row.price),
            count=row.count,
        )
        for row in gear.ReadyMade.objects.filter(shop=shop)
    ]


def _lines(sheet: BoardSheet, work: CutWork) -> list[CableLine]:
    index = index_plan(sheet.plan)
    left_out = {one.key: one for one in work.left_out}
    lines = []
    for cable in list_cables(sheet.plan):
        skipped = left_out.get(key_of(sheet.board, cable.ref))
        plugs = plugs_of(index, cable)
        labels = tuple(end.label for end in cable.ends)
        name = called(index, cable.cable) if cable.cable else ""
        state = skipped.why if skipped is not None else STATE_WORDS[cable.comes]
        is_too_short = skipped is not None and skipped.is_too_short
        lines.append(CableLine(cable, say_kind(cable), name, labels, plugs, str(state), is_too_short))
    return lines


def _lead_words(lead: Any) -> str:
    return "" if lead is None else say_spare(lead)


def _cost(sheet: BoardSheet, cost: Cost) -> CostLine:
    index = index_plan(sheet.plan)
    names = [
        called(index, ref) if fold(ref) in {*index.cables, *index.plugs} else ref for ref in cost.unpriced
    ]
    return CostLine(cost.known.quantize(Decimal("0.01")), ", ".join(names))


class BenchPage(Page):
    """A board's page whose template lies with the bench's."""

    @property
    def template(self) -> str:
        return f"bench/{self.name.replace('-', '_')}.html"


CUT_LIST = BenchPage("cut-list", build_cut_list, under="cables")
