"""Two states of a board beside each other, and its variants."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_POST, require_safe

from boardshop.boards.access import get_board_for
from boardshop.boards.edits import make_edit
from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.variants import VariantForm
from boardshop.boards.pages.comparison import describe_comparison
from boardshop.boards.pages.variants import ADD_KEY, rename_form, rename_key, variants_page
from boardshop.boards.services import variants as services
from boardshop.boards.views.rows import get_variant


@require_safe
def compare(request: HttpRequest, code: str) -> HttpResponse:
    """Any two of working copy, variants and revisions: in sentences, in figures and on the drawing."""
    board = get_board_for(request.user, code)
    context = describe_comparison(board, request.GET.get("one", ""), request.GET.get("other", ""))
    context["unknown"] = sorted(set(request.GET) - {"one", "other"})
    return render(request, "boards/compare.html", context)


@require_safe
def variants(request: HttpRequest, code: str) -> HttpResponse:
    """Every variant of the board with what it comes to."""
    board = get_board_for(request.user, code)
    return variants_page(board).draw(request, board)


@require_POST
def add_variant(request: HttpRequest, code: str) -> HttpResponse:
    """Begin another variant from the working copy."""
    board = get_board_for(request.user, code, editing=True)
    form = VariantForm(request.POST, key=ADD_KEY)

    def service(form: VariantForm) -> None:
        services.add_variant(board, form.seen, form.cleaned_data["name"])

    return make_edit(request, board, variants_page(board), form, service)


@require_POST
def use_variant(request: HttpRequest, code: str, pk: int) -> HttpResponse:
    """Make this variant the working copy."""
    board = get_board_for(request.user, code, editing=True)
    variant = get_variant(board, pk)
    form = EditForm(request.POST, key=f"use-{pk}")

    def service(form: EditForm) -> None:
        services.use_variant(board, form.seen, variant)

    return make_edit(request, board, variants_page(board), form, service)


@require_POST
def rename_variant(request: HttpRequest, code: str, pk: int) -> HttpResponse:
    board = get_board_for(request.user, code, editing=True)
    variant = get_variant(board, pk)

    def service(form: VariantForm) -> None:
        services.rename_variant(board, form.seen, variant, form.cleaned_data["name"])

    form = rename_form(variant, request.POST)
    return make_edit(request, board, variants_page(board), form, service, anchor=rename_key(variant))


@require_POST
def remove_variant(request: HttpRequest, code: str, pk: int) -> HttpResponse:
    """Take away a variant that is not current."""
    board = get_board_for(request.user, code, editing=True)
    variant = get_variant(board, pk)
    form = EditForm(request.POST, key=f"remove-{pk}")

    def service(form: EditForm) -> None:
        services.remove_variant(board, form.seen, variant)

    return make_edit(request, board, variants_page(board), form, service)
