"""Edits of the power: feed, chain, pull the plug; supplies put on, placed, taken off."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_POST, require_safe

from boardshop.boards.access import get_board_for
from boardshop.boards.catalogue import catalogue_of
from boardshop.boards.edits import make_edit, open_row
from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.ends import AddSupplyForm
from boardshop.boards.forms.feeds import ChainForm, FeedForm, MoveFeedForm
from boardshop.boards.forms.pedals import PlaceSupplyForm
from boardshop.boards.pages.layout import LAYOUT
from boardshop.boards.pages.power import POWER, chain_key, feed_key, move_key
from boardshop.boards.pages.try_feed import draw_try
from boardshop.boards.services import ends as end_services
from boardshop.boards.services import feeds as services
from boardshop.boards.views.places import anchor_of, place_form_key
from boardshop.boards.views.rows import get_supply
from boardshop.core.index import fold


@require_POST
def feed_pedal(request: HttpRequest, code: str, end: str) -> HttpResponse:
    """Feed a power jack, or feed it otherwise; the rest of its chain follows."""
    board = get_board_for(request.user, code, editing=True)
    catalogue, unit = catalogue_of(board), board.shop.length_unit
    catalogue.read("plugs", "supplies", "supply units")
    form = FeedForm(request.POST, key=feed_key(end), unit=unit, plugs=catalogue.plugs)

    def service(form: FeedForm) -> None:
        services.feed_jack(board, form.seen, end, form.columns())

    return make_edit(request, board, POWER, form, service, anchor=feed_key(end))


@require_POST
def move_feed(request: HttpRequest, code: str, end: str) -> HttpResponse:
    """Put a power jack's plug into another outlet, or pull it; its lead and adapters come along."""
    board = get_board_for(request.user, code, editing=True)
    form = MoveFeedForm(request.POST, key=move_key(end))

    def service(form: MoveFeedForm) -> None:
        services.move_feed(board, form.seen, end, form.cleaned_data["outlet"])

    opened = open_row(request)
    is_own = fold(opened) == fold(end)
    return make_edit(
        request, board, POWER, form, service, opened="" if is_own else opened, anchor=feed_key(end)
    )


@require_safe
def try_feed(request: HttpRequest, code: str, end: str) -> HttpResponse:
    """What would be if this power jack were fed from the outlet that is asked about; nothing is changed."""
    board = get_board_for(request.user, code)
    return draw_try(request, board, end, request.GET.get("outlet", ""))


@require_POST
def chain_pedal(request: HttpRequest, code: str, end: str) -> HttpResponse:
    """Hang a power jack on a lead that feeds another one."""
    board = get_board_for(request.user, code, editing=True)
    form = ChainForm(request.POST, key=chain_key(end))

    def service(form: ChainForm) -> None:
        services.chain_pedal(board, form.seen, end, form.cleaned_data["onto"])

    return make_edit(request, board, POWER, form, service, anchor=feed_key(end))


@require_POST
def unfeed(request: HttpRequest, code: str, end: str) -> HttpResponse:
    board = get_board_for(request.user, code, editing=True)
    form = EditForm(request.POST, key=f"un{feed_key(end)}")

    def service(form: EditForm) -> None:
        services.unfeed(board, form.seen, end)

    return make_edit(request, board, POWER, form, service, opened=end, anchor=feed_key(end))


@require_POST
def add_supply(request: HttpRequest, code: str) -> HttpResponse:
    board = get_board_for(request.user, code, editing=True)
    catalogue = catalogue_of(board)
    form = AddSupplyForm(request.POST, key="add-supply", gear=catalogue.supply_choices())

    def service(form: AddSupplyForm) -> None:
        model, unit = catalogue.supplies[form.cleaned_data["gear"]]
        end_services.add_supply(board, form.seen, model, unit, ref=form.cleaned_data["ref"])

    return make_edit(request, board, POWER, form, service, opened=open_row(request), anchor="add-supply")


@require_POST
def place_supply(request: HttpRequest, code: str, ref: str) -> HttpResponse:
    board = get_board_for(request.user, code, editing=True)
    supply = get_supply(board, ref)
    form = PlaceSupplyForm(request.POST, key=place_form_key(request, supply.ref), unit=board.shop.length_unit)

    def service(form: PlaceSupplyForm) -> None:
        end_services.place_supply(board, form.seen, supply, **form.typed())

    return make_edit(request, board, LAYOUT, form, service, opened=supply.ref, anchor=anchor_of(form))


@require_POST
def remove_supply(request: HttpRequest, code: str, ref: str) -> HttpResponse:
    board = get_board_for(request.user, code, editing=True)
    supply = get_supply(board, ref)
    form = EditForm(request.POST, key=f"remove-{supply.ref}")

    def service(form: EditForm) -> None:
        end_services.remove_supply(board, form.seen, supply)

    return make_edit(request, board, POWER, form, service, opened=open_row(request))
