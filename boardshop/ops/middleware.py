"""Refuses a request whose body is far over the upload limit, before any of it is read."""

from collections.abc import Callable

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.template.loader import render_to_string

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
            return HttpResponse(render_to_string("413.html", {"limit": limit}), status=413)
        return self.get_response(request)
