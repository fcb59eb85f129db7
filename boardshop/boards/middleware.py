"""What answers an edit of something that another edit has taken off its board meanwhile."""

from __future__ import annotations

from collections.abc import Callable
from urllib.parse import urlsplit

from django.http import HttpRequest, HttpResponse
from django.http.response import HttpResponseBase

from boardshop.boards.edits import answer_gone
from boardshop.boards.views.pages import PAGES
from boardshop.boards.views.rows import RowGone


class RowGoneMiddleware:
    """A form about a pedal, supply, link, end, variant or reason that is gone came too late, or twice.

    Then its sender reads what happened, as after any other late edit, and not that there is no such page.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, exception: Exception) -> HttpResponse | None:
        if not isinstance(exception, RowGone) or request.method != "POST":
            return None
        stood_on = urlsplit(request.headers.get("Referer", "")).path.rpartition("/")[2]
        return answer_gone(request, exception.board, PAGES.get(stood_on, PAGES["board"]))
