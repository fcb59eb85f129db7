"""What stands on a cut sheet: every cable of a board with its labels, and what to cut from the stock."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.utils import timezone
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from boardshop.boards.drawing.cut_lengths import DrawnLength, draw_lengths
from boardshop.boards.pages.cable_words import DC_WORDS, STATE_WORDS, PlugLine, plugs_of, say_kind
from boardshop.boards.sheet import BoardSheet
from boardshop.core.cables import CutPlan, plan_cuts
from boardshop.core.cables.cut_list import ListedCable, list_cables, list_dc_leads
from boardshop.core.cables.cut_work import kept_mm, wasted_mm
from boardshop.core.cables.strip import LAYER_MM, SOLDERED
from boardshop.core.drawer import say_spare
from boardshop.core.index import fold, index_plan
from boardshop.core.naming import called


@dataclass(frozen=True)
class SheetCable:
    """One cable on paper."""

    cable: ListedCable
    what: str
    type_name: str
    plugs: tuple[PlugLine, ...]
    state: str


def describe_cuts(sheet: BoardSheet, person: Any, asked: str | None = None) -> dict[str, Any]:
    """The context of the sheet's template; the plan is the report's own.

    ``asked`` are refs that are cut already, with blanks between them: they are marked so and left out of
    the plan.  None says that nothing is known of what was cut.
    """
    plan = sheet.plan
    cut_already = _read_cut_already(sheet, asked)
    cuts, index = plan_cuts(plan, cut_already=cut_already), index_plan(plan)
    return {
        "board": sheet.board,
        "shop": sheet.board.shop,
        "sheet": sheet,
        "printed_on": timezone.localdate(),
        "printed_by": person,
        "cables": _list_cables(sheet, cut_already),
        "cut_already": cut_already,
        "is_whole_board": asked is None,
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


def _read_cut_already(sheet: BoardSheet, asked: str | None) -> tuple[str, ...]:
    """As the board writes them and in its order; what is not to be cut on it is passed over."""
    plan = sheet.plan
    named = {fold(ref) for ref in (asked or "").split()}
    refs = [one.ref for one in list_cables(plan) if one.comes == "cut"] + [one.ref for one in plan.pieces]
    return () if sheet.revision else tuple(ref for ref in refs if fold(ref) in named)


def _list_cables(sheet: BoardSheet, cut_already: Sequence[str]) -> list[SheetCable]:
    index = index_plan(sheet.plan)
    return [
        SheetCable(
            cable=one,
            what=say_kind(one),
            type_name=called(index, one.cable) if one.cable else "",
            plugs=plugs_of(index, one),
            state=_("cut already") if one.ref in cut_already else str(STATE_WORDS[one.comes]),
        )
        for one in list_cables(sheet.plan)
    ]


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
