"""Refuses what no page could make sense of: bodies far over the limit, and text that no database holds."""

from collections.abc import Callable

from django.conf import settings
from django.core.exceptions import BadRequest
from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string

from boardshop.crew.addresses import page_seen

# A form may name the limit beside its own field, so what is a little too large still reaches it.
TIMES_THE_LIMIT = 2
MEGABYTE = 1024 * 1024


class BodyLimitMiddleware:
    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        length = request.META.get("CONTENT_LENGTH") or "0"
        if length.isdigit() and int(length) > TIMES_THE_LIMIT * settings.UPLOAD_LIMIT_BYTES:
            limit = settings.UPLOAD_LIMIT_BYTES // MEGABYTE
            return HttpResponse(
                render_to_string("413.html", {"limit": limit, "back": page_seen(request)}), status=413
            )
        return self.get_response(request)


class NulMiddleware:
    """A text in PostgreSQL holds any character but NUL; forms refuse it, and this does so in addresses."""

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponse]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        if "\0" in request.path or "%00" in request.META.get("QUERY_STRING", ""):
            raise BadRequest("NUL in the address")
        return self.get_response(request)
