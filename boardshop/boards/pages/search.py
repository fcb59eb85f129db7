"""The page of one search for a layout: how far it is, the best so far, then the answers beside each other."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import partial
from typing import Any

from django.urls import reverse
from django.utils import timezone
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from boardshop.boards.drawing import draw_board
from boardshop.boards.forms.searches import KEY
from boardshop.boards.models import Board, LayoutSearch
from boardshop.boards.pages.findings import list_findings
from boardshop.boards.pages.layout import draw_sheet
from boardshop.boards.pages.page import Page, PageState
from boardshop.boards.searching.choosing import BEST, Choice, list_choices
from boardshop.boards.searching.stored import read_placing
from boardshop.boards.searching.turns import LOST_AFTER, is_lost
from boardshop.boards.sheet import BoardSheet
from boardshop.core.boardfile import load_plan_text
from boardshop.core.cables import measure_runs
from boardshop.core.diff import compare_plans
from boardshop.core.findings import Finding, count_open, sort_findings
from boardshop.core.index import fold, index_plan
from boardshop.core.naming import called
from boardshop.core.placing.problem import CABLE_WEIGHT
from boardshop.core.placing.score import score_places
from boardshop.core.plan import BoardPlan, Keepout
from boardshop.core.report import compute_report

TAKE = "take-layout"


@dataclass(frozen=True)
class Offer:
    """One layout as the page shows it, judged on the board as it is now."""

    choice: Choice
    drawing: SafeString
    cut_mm: int
    unknown_cuts: int
    worse_percent: str
    """By how much a better one may be lower at most; blank where that is not known."""
    moves: list[str]
    left: list[str]
    lacks_room: bool
    counts: dict[str, int]
    brings: list[Finding]
    """What would be found and is not found now, worst first, but for what is advice."""
    free_percent: float
    is_as_now: bool

    @property
    def name(self) -> str:
        """What of the board it is drawn for, in ids."""
        return f"layout-{self.choice.key}"

    @property
    def reach(self) -> int:
        """The score's second part: how often each pedal is stepped on, times how far back its switch is."""
        return self.choice.placing.score - CABLE_WEIGHT * self.choice.placing.total_mm


@dataclass(frozen=True)
class SearchPage(Page):
    """A layout that was taken leads to the page of the layout."""

    def address(self, board: Board) -> str:
        return reverse("layout", args=[board.code])


def search_page(search: LayoutSearch) -> Page:
    return SearchPage("show-search", partial(_build, search), under="layout")


def describe_progress(board: Board, search: LayoutSearch) -> dict[str, Any]:
    """What the part that is asked for again and again shows."""
    context: dict[str, Any] = {
        "search": search,
        "is_live": search.is_under_way and not is_lost(search),
        "ahead": _count_ahead(search),
        "best": None,
    }
    # Of a frame that is being tried the row does not say which one it is.
    if search.best is not None and search.wanted != LayoutSearch.Wanted.FRAMES:
        best = Choice(BEST, read_placing(search.best))
        context["best"] = best
        context["best_drawing"] = _draw(board, best.lay_out(load_plan_text(search.file)), best)
    return context


def _count_ahead(search: LayoutSearch) -> int:
    """How many living searches come before one that waits."""
    if search.state != LayoutSearch.State.WAITING:
        return 0
    alive = LayoutSearch.objects.filter(seen_at__gte=timezone.now() - LOST_AFTER, pk__lt=search.pk)
    return alive.filter(state__in=LayoutSearch.UNDER_WAY).count()


def _build(search: LayoutSearch, sheet: BoardSheet, state: PageState) -> dict[str, Any]:
    state.take(TAKE)
    context: dict[str, Any] = {
        "steps": None,
        "is_lost": is_lost(search),
        "findings": list_findings(sheet.plan, sheet.findings_of("layout", "weight"), state),
        "asks_frames": search.wanted == LayoutSearch.Wanted.FRAMES,
        **describe_progress(sheet.board, search),
    }
    if context["is_live"]:
        return context
    before = load_plan_text(search.file)
    offers = [make_offer(sheet, choice, len(search.wishes["reserved"])) for choice in list_choices(search)]
    context |= {
        "offers": [offer for offer in offers if offer.choice.cure is None],
        "cures": [offer for offer in offers if offer.choice.cure is not None],
        "present": draw_sheet(sheet, page="show-search"),
        "now_score": _score_now(sheet.plan),
        "now_free": sheet.layout.free_percent,
        "changed": [one.sentence for one in compare_plans(before, sheet.plan)],
        "gone": _missing(before, sheet.plan),
        "new": _missing(sheet.plan, before),
        "wishes": search.wishes,
        "again_key": KEY,
    }
    return context


def make_offer(sheet: BoardSheet, choice: Choice, rooms: int) -> Offer:
    """`rooms` is how many rooms were to be kept free."""
    plan = choice.lay_out(sheet.plan)
    report = compute_report(plan, cut_seconds=0)
    index, placing = index_plan(sheet.plan), choice.placing
    return Offer(
        choice=choice,
        drawing=_draw(sheet.board, plan, choice),
        cut_mm=report.cables.cut_total_mm,
        unknown_cuts=sum(run.cut_mm is None for run in report.cables.runs),
        worse_percent=_say_gap(placing.score, placing.bound) if not placing.left_out else "",
        moves=[one.sentence for one in compare_plans(sheet.plan, plan) if one.kind == "moved"],
        left=[called(index, ref) for ref in choice.left],
        lacks_room=len(placing.reserved) < rooms,
        counts=count_open(report.findings),
        brings=_list_brought(sheet, report.findings),
        free_percent=report.layout.free_percent,
        is_as_now=plan == sheet.plan,
    )


def _list_brought(sheet: BoardSheet, findings: Sequence[Finding]) -> list[Finding]:
    now = {(one.rule, one.subjects) for one in sheet.report.findings}
    new = [one for one in findings if (one.rule, one.subjects) not in now and one.severity != "advice"]
    return list(sort_findings(new))


def _score_now(plan: BoardPlan) -> dict[str, int]:
    """Of the pedals that stand on the frame, as core scores a layout."""
    places = {fold(pedal.ref): pedal.place for pedal in plan.pedals if pedal.place is not None}
    score, total_mm = score_places(plan, places)
    return {
        "score": score,
        "total_mm": total_mm,
        "reach": score - CABLE_WEIGHT * total_mm,
        "unplaced": len(plan.pedals) - len(places),
    }


def _say_gap(score: int, bound: int) -> str:
    """`3.4`: the percent of the bound by which the score lies above it, rounded up.

    Blank where there is no bound, or one so low that the percent would tell nothing.
    """
    if bound <= 0 or score >= 2 * bound:
        return ""
    tenths = -(-1000 * (score - bound) // bound)
    return f"{tenths // 10}.{tenths % 10}"


def _draw(board: Board, plan: BoardPlan, choice: Choice) -> SafeString:
    """With the room that was asked for hatched as what is kept free."""
    later = _("a later pedal")
    rooms = [Keepout(box.x0, box.y0, box.width, box.depth, later) for box in choice.placing.reserved]
    drawn = replace(plan, frame=replace(plan.frame, keepouts=(*plan.frame.keepouts, *rooms)))
    svg = draw_board(
        drawn,
        runs=measure_runs(plan),
        length_unit=board.shop.length_unit,
        name=f"layout-{choice.key}-drawing",
    )
    return mark_safe(svg)  # noqa: S308 - draw_board escapes every text


def _missing(plan: BoardPlan, other: BoardPlan) -> list[str]:
    """The pedals of the plan that the other one has not, by name."""
    there, index = {fold(pedal.ref) for pedal in other.pedals}, index_plan(plan)
    return [called(index, pedal.ref) for pedal in plan.pedals if fold(pedal.ref) not in there]
