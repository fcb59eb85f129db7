"""Where a search for a layout is asked for: places on the board's frame, or a frame of the catalogue."""

from __future__ import annotations

from typing import Any

from django.db.models import QuerySet

from boardshop.boards.forms.searches import KEY, StartSearchForm, Wanted
from boardshop.boards.models import Board, LayoutSearch
from boardshop.boards.pages.findings import list_findings
from boardshop.boards.pages.layout import draw_sheet
from boardshop.boards.pages.page import Page, PageState
from boardshop.boards.services.searches import Asked
from boardshop.boards.sheet import BoardSheet
from boardshop.core.placing import find_impossible
from boardshop.gear.models import FrameModel


def search_form(sheet: BoardSheet, *, is_frames: bool = False) -> StartSearchForm:
    """As the page shows it at first: what is most likely wanted."""
    placed = [pedal for pedal in sheet.plan.pedals if pedal.place is not None]
    some = 0 < len(placed) < len(sheet.plan.pedals)
    initial = {"wanted": Wanted.FINISH if some else Wanted.ALL, "seconds": 5, "seed": 0}
    unit = sheet.board.shop.length_unit
    return StartSearchForm(plan=sheet.plan, unit=unit, is_frames=is_frames, initial=initial)


def build_place_for_me(sheet: BoardSheet, state: PageState) -> dict[str, Any]:
    form = state.form(KEY, lambda: search_form(sheet))
    asked = form.asked() if isinstance(form, StartSearchForm) and form.is_valid() else Asked(Wanted.ALL)
    plan = sheet.plan
    return {
        "form": form,
        "impossible": find_impossible(plan, asked.wishes) if plan.pedals else (),
        "drawing": draw_sheet(sheet, page="place-for-me"),
        "unplaced": [pedal for pedal in sheet.pedals if pedal.place is None],
        "searches": list_searches(sheet.board),
        "findings": list_findings(plan, sheet.findings_of("layout", "weight"), state),
    }


def build_which_frame(sheet: BoardSheet, state: PageState) -> dict[str, Any]:
    models = FrameModel.objects.filter(shop=sheet.board.shop_id)
    return {
        "form": state.form(KEY, lambda: search_form(sheet, is_frames=True)),
        "frames": sorted(models, key=lambda model: (model.width * model.depth, str(model))),
        "searches": list_searches(sheet.board).filter(wanted=Wanted.FRAMES),
        "findings": list_findings(sheet.plan, sheet.findings_of("layout", "weight"), state),
    }


def list_searches(board: Board) -> QuerySet[LayoutSearch]:
    """The last ones, newest first, without what they found."""
    return board.searches.defer("file", "frames", "best", "answers")


PLACE_FOR_ME = Page("place-for-me", build_place_for_me, under="layout")
WHICH_FRAME = Page("which-frame", build_which_frame, under="layout")
