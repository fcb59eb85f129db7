"""How every page takes new photos and files: each good one is kept, each other one named with its reason."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponseBase, HttpResponseRedirect
from django.urls import resolve
from django.utils.translation import gettext as _

from boardshop.crew.access import person_of
from boardshop.crew.models import Shop
from boardshop.files.forms import UploadForm
from boardshop.files.store import Holder, Received, receive_files


def take_files(
    request: HttpRequest, form: UploadForm, holder: Holder, shop: Shop, *, back: str
) -> HttpResponseBase:
    """Back to the page when anything was kept; 422 and that page with the form again when nothing was."""
    if form.is_valid():
        data = form.cleaned_data
        received = receive_files(holder, shop, person_of(request), data["sent"], data["shows"])
        if received.added or received.there:
            _tell(request, received)
            return HttpResponseRedirect(f"{back}#files", status=303)
        for refusal in received.refused:
            form.add_error("sent", str(refusal))
    return _draw_again(request, form, back)


def _draw_again(request: HttpRequest, form: UploadForm, back: str) -> HttpResponseBase:
    """The page that the form stood on, as a link there would show it, with the form open and what is wrong.

    templates/files/section.html takes the refused form from the request, whichever page it is drawn on.
    """
    page = resolve(back)
    request.method, request.resolver_match = "GET", page
    request.path = request.path_info = back
    request.refused_upload = form  # type: ignore[attr-defined]
    answer: HttpResponseBase = page.func(request, *page.args, **page.kwargs)
    answer.status_code = 422
    return answer


def _tell(request: HttpRequest, received: Received) -> None:
    for attachment in received.added:
        messages.success(request, _("%(name)s is kept.") % {"name": attachment.name})
    for attachment in received.there:
        messages.info(request, _("%(name)s is there already.") % {"name": attachment.name})
    for refusal in received.refused:
        messages.error(request, str(refusal))
