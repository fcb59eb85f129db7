"""New boards: from nothing, from a board file, as a copy."""

from collections.abc import Callable
from typing import Any

from django import forms
from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from boardshop.boards.forms.boards import BeginForm, CopyForm, ImportForm
from boardshop.boards.models import Board
from boardshop.boards.plan.frames import frame_value
from boardshop.boards.services import boards as services
from boardshop.core.boardfile import RefusedBoardFile
from boardshop.crew.access import get_shop_for, person_of
from boardshop.crew.errors import Refusal
from boardshop.crew.models import Shop


@require_safe
def new_board(request: HttpRequest) -> HttpResponse:
    """The three ways to begin, on one page."""
    shop = get_shop_for(request.user, editing=True)
    copied = Board.objects.filter(shop=shop, code=request.GET.get("copy", "")[:5]).first()
    return _show(request, shop, copy_form=CopyForm(shop=shop, initial={"board": copied}))


@require_POST
def begin_board(request: HttpRequest) -> HttpResponse:
    shop = get_shop_for(request.user, editing=True)
    form = BeginForm(request.POST, shop=shop)

    def service(form: BeginForm) -> Board:
        model = form.cleaned_data["frame"]
        return services.begin_board(
            shop,
            name=form.cleaned_data["name"],
            client=form.cleaned_data["client"],
            frame=frame_value(model) if model else form.typed_frame(),
            model=model,
            begun_by=form.begun_by(),
            by=person_of(request),
        )

    return _begin(request, shop, "begin_form", form, service)


@require_POST
def import_board(request: HttpRequest) -> HttpResponse:
    """Every fault of a refused file is listed with its place; nothing is stored then."""
    shop = get_shop_for(request.user, editing=True)
    form = ImportForm(request.POST, files=request.FILES, shop=shop)

    def service(form: ImportForm) -> Board:
        typed = form.cleaned_data
        return services.import_board(
            shop,
            typed["board_file"],
            name=typed["name"],
            client=typed["client"],
            models_only=typed["models_only"],
            begun_by=form.begun_by(),
            by=person_of(request),
        )

    return _begin(request, shop, "import_form", form, service)


@require_POST
def copy_board(request: HttpRequest) -> HttpResponse:
    shop = get_shop_for(request.user, editing=True)
    form = CopyForm(request.POST, shop=shop)

    def service(form: CopyForm) -> Board:
        typed = form.cleaned_data
        return services.copy_board(
            typed["board"],
            name=typed["name"],
            client=typed["client"],
            begun_by=form.begun_by(),
            by=person_of(request),
        )

    return _begin(request, shop, "copy_form", form, service)


def _begin[F: forms.Form](
    request: HttpRequest, shop: Shop, key: str, form: F, service: Callable[[F], Board]
) -> HttpResponse:
    """The board that the service begins, or the page with what was typed and why it was refused."""
    faults: Any = ()
    if form.is_valid():
        try:
            return _go_to(request, service(form))
        except RefusedBoardFile as refused:
            faults = refused.faults
        except Refusal as refusal:
            form.add_error(refusal.field if refusal.field in form.fields else None, str(refusal))
    return _show(request, shop, faults=faults, **{key: form})


def _go_to(request: HttpRequest, board: Board) -> HttpResponse:
    messages.success(
        request, _("%(board)s is begun; its code is %(code)s.") % {"board": board, "code": board.code}
    )
    return redirect("board", board.code)


def _show(request: HttpRequest, shop: Shop, *, faults: Any = (), **forms_typed: forms.Form) -> HttpResponse:
    """The page with one form as it was typed and the others fresh."""
    context = {
        "begin_form": BeginForm(shop=shop),
        "import_form": ImportForm(shop=shop),
        "copy_form": CopyForm(shop=shop),
        "faults": faults,
        **forms_typed,
    }
    is_refused = any(form.is_bound for form in forms_typed.values())
    return render(request, "boards/new_board.html", context, status=422 if is_refused else 200)
