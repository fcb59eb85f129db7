"""The list of boards."""

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.views.decorators.http import require_safe

from boardshop.boards.access import list_boards
from boardshop.boards.forms.boards import FindForm
from boardshop.crew.access import get_shop_for, may_edit
from boardshop.crew.answers import render_part

BOARDS_ON_A_PAGE = 100


@require_safe
def boards(request: HttpRequest) -> HttpResponse:
    """The boards of the shop, found by code, artist or customer, pedal or serial."""
    shop = get_shop_for(request.user)
    form = FindForm(request.GET)
    text = form.cleaned_data["find"] if form.is_valid() else ""
    found = Paginator(list_boards(request.user, text), BOARDS_ON_A_PAGE).get_page(request.GET.get("page"))
    context = {"form": form, "text": text, "boards": found, "may_edit": may_edit(request.user, shop)}
    return render_part(
        request, "boards/boards.html", "found", context, status=200 if form.is_valid() else 422
    )


@require_safe
def all_boards(request: HttpRequest) -> HttpResponse:
    """Where a board's address is cut short; the list has one address, `/`, and its search comes along."""
    return redirect(reverse("boards", query=request.GET))
