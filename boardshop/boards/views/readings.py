"""The first power-on: its page, and what a meter read at each plug."""

from __future__ import annotations

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_POST, require_safe

from boardshop.boards.access import get_board_for
from boardshop.boards.edits import make_edit
from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.readings import LoadForm, PlugForm
from boardshop.boards.models import Board, LeadReading
from boardshop.boards.pages.first_power import FIRST_POWER, load_key, plug_key, step_key
from boardshop.boards.services import readings as services
from boardshop.boards.views.rows import get_reading


@require_safe
def first_power(request: HttpRequest, code: str) -> HttpResponse:
    """Every plug in the order in which it is metered, with what was read so far."""
    return FIRST_POWER.draw(request, get_board_for(request.user, code))


@require_POST
def record_reading(request: HttpRequest, code: str, end: str) -> HttpResponse:
    """Volts and polarity at the open plug, or with `reads` the current with the pedal on."""
    board = get_board_for(request.user, code, editing=True)
    if request.POST.get("reads") == "load":
        form: EditForm = LoadForm(request.POST, key=load_key(end))
    else:
        form = PlugForm(request.POST, key=plug_key(end))

    def service(form: EditForm) -> None:
        typed = form.cleaned_data
        if isinstance(form, LoadForm):
            services.record_load(board, form.seen, end, typed["load"], typed["note"])
        else:
            services.record_plug(board, form.seen, end, typed["volts"], typed["polarity"], typed["note"])

    return make_edit(request, board, FIRST_POWER, form, service, anchor=step_key(end))


@require_POST
def take_back_reading(request: HttpRequest, code: str, pk: int) -> HttpResponse:
    """One that was mistyped, or taken at another plug."""
    return _edit_one(request, code, pk, services.take_back_reading)


@require_POST
def put_back_reading(request: HttpRequest, code: str, pk: int) -> HttpResponse:
    return _edit_one(request, code, pk, services.put_back_reading)


@require_POST
def keep_draw(request: HttpRequest, code: str, pk: int) -> HttpResponse:
    """What was read becomes the measured draw of the unit that stands there."""
    return _edit_one(request, code, pk, services.keep_draw)


def _edit_one(
    request: HttpRequest, code: str, pk: int, edit: Callable[[Board, int, LeadReading], None]
) -> HttpResponse:
    board = get_board_for(request.user, code, editing=True)
    reading = get_reading(board, pk)
    form = EditForm(request.POST, key=f"reading-{pk}")
    return make_edit(
        request,
        board,
        FIRST_POWER,
        form,
        lambda form: edit(board, form.seen, reading),
        anchor=step_key(reading.end),
    )
