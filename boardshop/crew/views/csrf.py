"""A form that came without this browser's mark."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse

from boardshop.crew.addresses import safe_address

NOT_SHOWN = (
    "csrfmiddlewaretoken",
    "password",
    "again",
    "secret",
    "credential",
    "code",
    "once",
    "seen",
    "next",
)
"""Parts of names of fields that nobody typed, or that nobody else should read."""


def csrf_failure(request: HttpRequest, reason: str = "") -> HttpResponse:
    """As a rule somebody signed in or out, or changed to another shop, in another tab.

    A form for signing in leads on where that was done meanwhile.  Any other is not stored, since it may be of
    the former shop, but what was typed is shown, so that it can be copied.
    """
    if request.path == reverse("sign-in") and request.user.is_authenticated:
        return redirect(safe_address(request, request.POST.get("next"), "/"))
    typed = _typed(request) if _is_own(request) else []
    return render(request, "403_csrf.html", {"typed": typed}, status=403)


def _is_own(request: HttpRequest) -> bool:
    """Whether a page of this server sent it, by the browser's word (Fetch Metadata, W3C)."""
    return request.headers.get("Sec-Fetch-Site") == "same-origin"


def _typed(request: HttpRequest) -> list[tuple[str, str]]:
    """Name and value of each field that somebody may have filled in."""
    return [
        (name, value)
        for name, values in request.POST.lists()
        for value in values
        if value.strip() and not any(part in name.lower() for part in NOT_SHOWN)
    ]
