"""Whether a whole page or a part of it is the answer: decided in this one place."""

from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.utils.cache import patch_vary_headers
from django.utils.http import url_has_allowed_host_and_scheme
from django_htmx.middleware import HtmxDetails


def wants_part(request: HttpRequest) -> bool:
    """Whether htmx asks, and not for a page that it restores from history."""
    htmx = HtmxDetails(request)
    return bool(htmx) and not htmx.history_restore_request


def back_of(request: HttpRequest, otherwise: str = "/") -> str:
    """The page on this server that a form or a link says it stood on; `otherwise` for anything else."""
    back = request.POST.get("back") or request.GET.get("back") or ""
    return back if back.startswith("/") and url_has_allowed_host_and_scheme(back, None) else otherwise


def render_part(
    request: HttpRequest, template: str, part: str, context: dict[str, Any], status: int = 200
) -> HttpResponse:
    """The template's partial of that name for htmx, the whole page for everybody else."""
    name = f"{template}#{part}" if wants_part(request) else template
    answer = render(request, name, context, status=status)
    patch_vary_headers(answer, ("HX-Request", "HX-History-Restore-Request"))
    return answer
