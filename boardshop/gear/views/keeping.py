"""What adding and changing any piece of gear answer alike."""

from collections.abc import Callable
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect
from django.urls import reverse
from django.utils.translation import gettext as _

from boardshop.crew.answers import render_part
from boardshop.crew.errors import Refusal
from boardshop.crew.once import Made, make_once
from boardshop.gear.errors import ChangedMeanwhile
from boardshop.gear.kinds import GearKind


def keep(request: HttpRequest, form: Any, keep_it: Callable[[], Any]) -> tuple[Any, int]:
    """What the service gave, or None and the status of the page that says why not."""
    if request.method != "POST" or not form.is_bound:
        return None, 200
    if not form.is_valid():
        return None, 422
    try:
        return keep_it(), 303
    except ChangedMeanwhile as refusal:
        form.refuse(refusal)
        return None, 409
    except Refusal as refusal:
        form.refuse(refusal)
        return None, 422


def keep_new(
    request: HttpRequest, form: Any, kind: GearKind, add: Callable[[], Any]
) -> tuple[Made[Any] | None, int]:
    """As `keep`, for what a form adds: the same form sent twice adds it once."""
    return keep(request, form, lambda: make_once(request, add, lambda row: page_of(kind, row)))


def told_new(request: HttpRequest, made: Made[Any]) -> HttpResponse:
    """To what was added, also by the same form sent before."""
    if made.thing is None:
        messages.info(request, _("This form was sent twice; what it says is kept once."))
    else:
        messages.success(request, _("%(name)s is kept.") % {"name": made.thing})
    return redirect(made.address)


def told(request: HttpRequest, row: Any, kind: GearKind) -> HttpResponse:
    """To the page of the thing where it has one, else to its list, with a word that it is kept."""
    messages.success(request, _("%(name)s is kept.") % {"name": row})
    return redirect(page_of(kind, row))


def page_of(kind: GearKind, row: Any) -> str:
    if kind.has_own_page:
        return reverse(kind.page, args=[row.pk])
    return list_of(kind)


def list_of(kind: GearKind) -> str:
    return reverse("gear", query={"kind": kind.slug})


def render_sheet(
    request: HttpRequest, template: str, context: dict[str, Any], status: int = 200
) -> HttpResponse:
    """The page of a form, or the form alone for htmx."""
    return render_part(request, template, "sheet", {"place": "gear", **context}, status)
