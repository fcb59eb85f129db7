"""Which addresses of this server show a page, and which only take forms."""

from __future__ import annotations

import inspect
from collections.abc import Callable
from typing import Any
from urllib.parse import urlsplit

from django.http import HttpRequest
from django.urls import Resolver404, resolve
from django.utils.http import url_has_allowed_host_and_scheme


def safe_address(request: HttpRequest, address: str | None, fallback: str) -> str:
    """The address, if it lies on this server; else the fallback."""
    if address and url_has_allowed_host_and_scheme(
        address, {request.get_host()}, require_https=request.is_secure()
    ):
        return address
    return fallback


def shows_page(path: str) -> bool:
    """Whether somebody who goes there by a link gets a page: it leads to a view that answers GET."""
    try:
        view = resolve(path).func
    except Resolver404:
        return False
    return "GET" in _methods(view)


def nearest_page(path: str) -> str:
    """The page itself, else the one above it: `/boards/7K3MA` for `/boards/7K3MA/undo`; at last `/`.

    What follows the path, as `?open=P4`, only stays with the page it was for.
    """
    parts = urlsplit(path)
    if shows_page(parts.path):
        return path
    above = parts.path.rstrip("/")
    while above := above.rpartition("/")[0]:
        if shows_page(above):
            return above
    return "/"


def page_seen(request: HttpRequest) -> str:
    """Where a person who looks at the answer to this request can go back to.

    The address itself where a link leads there; else the page its form stood on, if the browser says so, or
    the page above: a refused form is shown at an address that may take forms only.
    """
    here = request.get_full_path()
    if request.method in ("GET", "HEAD") or shows_page(request.path):
        return here
    stood_on = urlsplit(request.headers.get("Referer", ""))
    if stood_on.netloc == request.get_host() and shows_page(stood_on.path):
        return f"{stood_on.path}?{stood_on.query}" if stood_on.query else stood_on.path
    return nearest_page(request.path)


def _methods(view: Callable[..., Any]) -> set[str]:
    """The methods that a view answers, as its class or the decorator around it says."""
    at: Any = view
    while at is not None:
        if as_class := getattr(at, "view_class", None):
            return {name.upper() for name in as_class.http_method_names if hasattr(as_class, name)}
        held = inspect.getclosurevars(at).nonlocals if inspect.isfunction(at) else {}
        if "request_method_list" in held:  # of django.views.decorators.http.require_http_methods
            return set(held["request_method_list"])
        at = getattr(at, "__wrapped__", None)
    return {"GET", "POST"}
