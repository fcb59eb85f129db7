"""Findings kept on purpose, and taken back."""

from __future__ import annotations

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_POST

from boardshop.boards.access import get_board_for
from boardshop.boards.edits import make_edit, open_row
from boardshop.boards.forms.findings import KeepForm
from boardshop.boards.pages.findings import key_of
from boardshop.boards.pages.page import Page
from boardshop.boards.services import findings as services
from boardshop.boards.views.pages import PAGES
from boardshop.boards.views.rows import get_accepted
from boardshop.crew.models import Person


@require_POST
def accept_finding(request: HttpRequest, code: str) -> HttpResponse:
    board = get_board_for(request.user, code, editing=True)
    form, page = _posted(request)

    def service(form: KeepForm) -> None:
        assert isinstance(request.user, Person)
        rule, why = form.cleaned_data["rule"], form.cleaned_data["why"]
        services.accept_finding(board, form.seen, rule, form.subject_list(), why, request.user)

    return make_edit(request, board, page, form, service, opened=open_row(request), anchor="findings")


@require_POST
def withdraw_finding(request: HttpRequest, code: str) -> HttpResponse:
    """The finding counts again."""
    board = get_board_for(request.user, code, editing=True)
    form, page = _posted(request)
    form.full_clean()
    accepted = get_accepted(board, form.cleaned_data.get("rule", ""), form.subject_list())

    def service(form: KeepForm) -> None:
        services.withdraw_reason(board, form.seen, accepted)

    return make_edit(request, board, page, form, service, opened=open_row(request), anchor="findings")


def _posted(request: HttpRequest) -> tuple[KeepForm, Page]:
    """The form, and the page on which it stood."""
    subjects = request.POST.get("subjects", "").split()
    form = KeepForm(request.POST, key=key_of(request.POST.get("rule", "")[:8], subjects))
    return form, PAGES.get(request.POST.get("page", ""), PAGES["board"])
