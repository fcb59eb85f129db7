"""The page of a board's variants, side by side."""

from __future__ import annotations

from typing import Any

from django.urls import reverse

from boardshop.boards.access import may_change
from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.variants import VariantForm
from boardshop.boards.models import Board, Variant
from boardshop.boards.pages.page import FormPage
from boardshop.boards.pages.sides import list_sums, read_variants
from boardshop.boards.pages.strip import list_strips
from boardshop.boards.services.history import next_steps

ADD_KEY = "add-variant"


def rename_key(variant: Variant) -> str:
    return f"rename-{variant.pk}"


def rename_form(variant: Variant, data: Any = None) -> EditForm:
    return VariantForm(data, key=rename_key(variant), initial={"name": variant.name})


def variants_page(board: Board) -> FormPage:
    may_edit = may_change(board)
    return FormPage(
        template="boards/variants.html",
        back=reverse("variants", args=[board.code]),
        tab="history",
        context={"may_edit": may_edit, "page": "variants", "steps": next_steps(board) if may_edit else None},
        forms={ADD_KEY: lambda: VariantForm(key=ADD_KEY)},
        late=lambda state: describe_variants(board, state),
    )


def describe_variants(board: Board, state: Any) -> dict[str, Any]:
    """Read when the page is drawn, so after the edit that it answers."""
    found = read_variants(board)
    return {
        "sides": [side for _variant, side in found],
        "sums": list_sums([side for _variant, side in found]),
        "variants": [
            {
                "row": variant,
                "side": side,
                "strips": list_strips(side.sheet, lambda ref: "") if side.sheet else (),
                "rename": state.form(rename_key(variant), lambda variant=variant: rename_form(variant)),
            }
            for variant, side in found
        ],
    }
