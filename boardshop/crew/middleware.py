"""Everything asks for a sign-in unless its view says otherwise; a fragment never becomes a whole page."""

import re
from collections.abc import Callable
from typing import Any
from urllib.parse import urlsplit

from django.conf import settings
from django.contrib.auth.middleware import LoginRequiredMiddleware, get_user
from django.contrib.auth.views import redirect_to_login
from django.http import (
    HttpRequest,
    HttpResponse,
    HttpResponseBase,
    HttpResponseNotAllowed,
    HttpResponseRedirect,
)
from django.shortcuts import redirect, render, resolve_url
from django.utils import timezone
from django.utils.functional import SimpleLazyObject
from django.utils.html import format_html
from django.utils.http import url_has_allowed_host_and_scheme
from django_htmx.middleware import HtmxDetails

from boardshop.crew.access import NoShop, person_of
from boardshop.crew.accounts.devices import RENEWED_ON, note_device
from boardshop.crew.addresses import nearest_page
from boardshop.crew.errors import Refusal
from boardshop.crew.models import Person
from boardshop.crew.shop_in_use import read_shop, settle_shop

BOARD_ADDRESS = re.compile(r"/boards/[^/]{5}(?=/)")
"""Where the pages of one board begin."""


class SignInRequiredMiddleware(LoginRequiredMiddleware):
    """Sends a signed-out visitor to the sign-in page, and back to where they were.

    An htmx request would follow a redirect and put the sign-in page into the fragment, so it gets
    204 and HX-Redirect instead.  A POST comes back to the page its form stood on: its own address
    may know no GET.
    """

    def process_view(self, request: HttpRequest, *view: Any) -> HttpResponseBase | None:
        answer = super().process_view(request, *view)
        if isinstance(answer, HttpResponseRedirect) and HtmxDetails(request):
            return HttpResponse(status=204, headers={"HX-Redirect": answer.url})
        return answer

    def handle_no_permission(self, request: HttpRequest, view_func: Any) -> HttpResponseRedirect:
        return redirect_to_login(_page_of(request), resolve_url(settings.LOGIN_URL))


def _page_of(request: HttpRequest) -> str:
    """The address of the page that the visitor sees."""
    htmx = HtmxDetails(request)
    if request.method in ("GET", "HEAD") and not htmx:
        return request.get_full_path()
    seen = htmx.current_url or request.headers.get("Referer") or ""
    if not url_has_allowed_host_and_scheme(seen, {request.get_host()}, require_https=request.is_secure()):
        return "/"
    parts = urlsplit(seen)
    return nearest_page(f"{parts.path or '/'}?{parts.query}" if parts.query else parts.path or "/")


def _say_not_shown(request: HttpRequest, answer: HttpResponseNotAllowed) -> HttpResponse:
    """An address that only takes forms, opened by hand or on the way back from one: where to go instead."""
    board = BOARD_ADDRESS.match(request.path)
    back = board[0] if board else "/"
    page = render(request, "405.html", {"back": back}, status=405)
    page["Allow"] = answer["Allow"]
    return page


class RollingSessionMiddleware:
    """A device that is used stays signed in: once a day its session gets its whole length again, and its line
    in the list of devices today's date.

    Not on every request, which would write to the database each time.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        answer = self.get_response(request)
        today = timezone.localdate().isoformat()
        # Looked at only where something else has read the session already: it costs no query of its own.
        is_due = request.session.accessed and request.session.get(RENEWED_ON, today) != today
        if is_due and person_of(request) is not None:
            note_device(request)
        return answer


class RefusalMiddleware:
    """A service's refusal that no form took: 409 with its sentence and the way back, never a crash.

    As a rule something went between the check and the edit: gear that was deleted, a board that moved on.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        answer = self.get_response(request)
        if isinstance(answer, HttpResponseNotAllowed) and request.method == "GET":
            return _say_not_shown(request, answer)
        return answer

    def process_exception(self, request: HttpRequest, exception: Exception) -> HttpResponse | None:
        if not isinstance(exception, Refusal):
            return None
        if HtmxDetails(request):
            said = format_html('<p class="notice is-error" role="alert">{}</p>', exception)
            to_notices = {"HX-Retarget": "#notices", "HX-Reswap": "innerHTML"}
            return HttpResponse(said, status=409, headers=to_notices)
        context = {"exception": exception, "back": _page_of(request)}
        return render(request, "409.html", context, status=409)


class ShopInUseMiddleware:
    """Gives the person the shop that this device works in, and keeps the one that a page was shown of.

    Stands after AuthenticationMiddleware; a page that never asks who looks costs no query.
    """

    def __init__(self, get_response: Callable[[HttpRequest], HttpResponseBase]) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponseBase:
        request.user = SimpleLazyObject(lambda: _with_shop(request))  # type: ignore[assignment]
        answer = self.get_response(request)
        return redirect(request.get_full_path()) if settle_shop(request) else answer

    def process_exception(self, request: HttpRequest, exception: Exception) -> HttpResponse | None:
        """Whoever belongs to no shop reads how to come into one."""
        if not isinstance(exception, NoShop):
            return None
        return render(request, "crew/no_shop.html", status=404)


def _with_shop(request: HttpRequest) -> Any:
    user = get_user(request)
    if isinstance(user, Person):
        user.shop_in_use = read_shop(request)
        user.is_sending = request.method not in ("GET", "HEAD", "OPTIONS")
    return user
