"""What stands on a cut sheet: every cable of a board with its labels, and what to cut from the stock."""

from dataclasses import dataclass
from typing import Any

from django.utils import timezone
from django.utils.safestring import SafeString, mark_safe

from boardshop.boards.drawing.cut_lengths import DrawnLength, draw_lengths
from boardshop.boards.pages.cable_words import DC_WORDS, STATE_WORDS, PlugLine, plugs_of, say_kind
from boardshop.boards.sheet import BoardSheet
from boardshop.core.cables import CutPlan, plan_cuts
from boardshop.core.cables.cut_list import ListedCable, list_cables, list_dc_leads
from boardshop.core.cables.cut_work import kept_mm, wasted_mm
from boardshop.core.cables.strip import LAYER_MM, SOLDERED
from boardshop.core.drawer import say_spare
from boardshop.core.index import index_plan
from boardshop.core.naming import called


@dataclass(frozen=True)
class SheetCable:
    """One cable on paper."""

    cable: ListedCable
    what: str
    type_name: str
    plugs: tuple[PlugLine, ...]
    state: str


def describe_cuts(sheet: BoardSheet, person: Any) -> dict[str, Any]:
    """The context of the sheet's template; the plan is the report's own."""
    plan, cuts = sheet.plan, plan_cuts(sheet.plan)
    index = index_plan(plan)
    return {
        "board": sheet.board,
        "shop": sheet.board.shop,
        "sheet": sheet,
        "printed_on": timezone.localdate(),
        "printed_by": person,
        "cables": [
            SheetCable(
                cable=one,
                what=say_kind(one),
                type_name=called(index, one.cable) if one.cable else "",
                plugs=plugs_of(index, one),
                state=str(STATE_WORDS[one.comes]),
            )
            for one in list_cables(plan)
        ],
        "dc_leads": [
            (one, DC_WORDS[one.comes], say_spare(one.lead) if one.lead else "") for one in list_dc_leads(plan)
        ],
        "cuts": cuts,
        "used": [(one, called(index, one.cable), kept_mm(one, plan.rules), wasted_mm(one, plan.rules))
                 for one in cuts.used],
        "drawing": _draw(sheet, cuts),
        "soldered": SOLDERED,
        "layer_mm": LAYER_MM,
    }  # fmt: skip


def _draw(sheet: BoardSheet, cuts: CutPlan) -> SafeString:
    rules = sheet.plan.rules
    lengths = [
        DrawnLength(
            name=one.cable,
            kind=one.kind,
            length=one.length,
            trim=rules.trim_mm if one.kind == "offcut" else 0,
            pieces=one.pieces,
            kerf=rules.kerf_mm,
            kept=kept_mm(one, rules),
        )
        for one in cuts.used
    ]
    return mark_safe(draw_lengths(lengths, sheet.board.shop.length_unit))  # noqa: S308 - draw_lengths escapes
