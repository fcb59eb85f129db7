"""How every edit of a board answers: the page again, computed anew, or the page with what was typed."""

from __future__ import annotations

from collections.abc import Callable
from hashlib import sha256
from typing import Any
from urllib.parse import urlencode

from django.http import HttpRequest, HttpResponse, HttpResponseRedirect

from boardshop.boards.errors import StaleEdit
from boardshop.boards.forms.edits import BASE, EditForm
from boardshop.boards.models import Board
from boardshop.boards.pages.page import Again, FormPage, Page, PageState
from boardshop.boards.services.history import changes_since, was_kept
from boardshop.crew.answers import wants_part
from boardshop.crew.errors import Refusal
from boardshop.gear.templatetags.lengths import lengths_in

UNSAID = (BASE, "page", "open")
"""What a form carries along that nobody typed."""

type Service = Callable[[Any], Any]
"""Takes the valid form."""


def make_edit(
    request: HttpRequest,
    board: Board,
    page: Page | FormPage,
    form: EditForm,
    service: Service,
    *,
    opened: str = "",
    anchor: str = "",
) -> HttpResponse:
    """Run the service on a valid form and draw `page`; nothing typed is lost when it is refused.

    200 with the changed part for htmx and a redirect to the page for everybody else; 422 with the error
    beside its field; 409 when the board was changed after the form's page was loaded, with what the others
    did and the way to send the same again.  The same form sent twice is answered twice and kept once.
    `opened` is the row to open afterwards, `anchor` where a whole page is to be scrolled.
    """
    board.form_mark = mark_of_form(request)
    conflict = _try(board, form, service)
    is_resent = conflict is not None and _was_sent_before(board, form)
    if is_resent or (conflict is None and form.is_valid()):
        return _answer_kept(request, board, page, opened, anchor)
    return _answer_refused(request, board, page, form, conflict)


def answer_gone(request: HttpRequest, board: Board, page: Page) -> HttpResponse | None:
    """The answer to a form about something that stands on the board no more.

    None where it did not stand there either when the form's page was loaded.
    """
    form = EditForm(request.POST, key="gone")
    if not form.is_valid() or not _is_late(form, board):
        return None
    board.form_mark = mark_of_form(request)
    if _was_sent_before(board, form):
        return _answer_kept(request, board, page, "", "")
    state = _state_after(request, board, form, str(StaleEdit(board=board.name)))
    state.gone = [
        (name, value) for name, value in _typed_fields(request) if value.strip() and name not in UNSAID
    ]
    return page.draw(request, board, state, 409)


def _was_sent_before(board: Board, form: EditForm) -> bool:
    """Whether this very form was kept already; where both came at once, the board was read too early."""
    is_kept = was_kept(board, form.seen, board.form_mark)
    if is_kept:
        board.refresh_from_db(fields=["edit_number", "changed_at"])
    return is_kept


def _answer_refused(
    request: HttpRequest, board: Board, page: Page | FormPage, form: EditForm, conflict: str | None
) -> HttpResponse:
    """After a conflict with what the others did since, and the form to send the same again."""
    state = _state_after(request, board, form, conflict or "")
    if conflict is None:
        return page.draw(request, board, state, 422)
    if form.is_valid():
        state.again = Again(request.path, _typed_fields(request), form)
    return page.draw(request, board, state, 409)


def _state_after(request: HttpRequest, board: Board, form: EditForm, conflict: str) -> PageState:
    # The service counted the edit before it was refused.
    board.refresh_from_db(fields=["edit_number", "changed_at"])
    state = PageState({form.key: form}, open_row(request), conflict)
    state.since = changes_since(board, form.seen) if conflict else []
    return state


def mark_of_form(request: HttpRequest) -> str:
    """The same for the same form with the same input, whenever it is sent."""
    typed = [request.path, *_typed_fields(request), ("edit", request.POST.get("edit"))]
    return sha256(repr(typed).encode()).hexdigest()


def _typed_fields(request: HttpRequest) -> list[tuple[str, str]]:
    """Everything that was posted, but for what ties it to a browser and to a state of the board."""
    left_out = ("csrfmiddlewaretoken", "edit")
    return [
        (name, value) for name, values in request.POST.lists() if name not in left_out for value in values
    ]


def open_row(request: HttpRequest) -> str:
    """The row whose form stood open on the page from which this was posted; blank for none.

    On the layout page several things may be chosen, parted by spaces.
    """
    return request.POST.get("open", "")[:400]


def _try(board: Board, form: EditForm, service: Service) -> str | None:
    """The sentence about an edit that came too late; what else is wrong is added to the form."""
    if not form.is_valid():
        return str(StaleEdit(board=board.name)) if _is_late(form, board) else None
    try:
        service(form)
    except StaleEdit as stale:
        return str(stale)
    except Refusal as refusal:
        said = lengths_in(str(refusal), board.shop)
        form.add_error(refusal.field if refusal.field in form.fields else None, said)
    return None


def _is_late(form: EditForm, board: Board) -> bool:
    return bool(form.cleaned_data.get("edit", board.edit_number) != board.edit_number)


def _answer_kept(
    request: HttpRequest, board: Board, page: Page | FormPage, opened: str, anchor: str
) -> HttpResponse:
    if wants_part(request):
        return page.draw(request, board, PageState(opened=opened))
    query = f"?{urlencode({'open': opened})}" if opened else ""
    hash_part = f"#{anchor}" if anchor else ""
    return HttpResponseRedirect(f"{page.address(board)}{query}{hash_part}", status=303)
