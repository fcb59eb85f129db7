"""How every page takes new photos and files: each good one is kept, each other one named with its reason."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect
from django.shortcuts import render
from django.utils.translation import gettext as _

from boardshop.crew.access import person_of
from boardshop.crew.models import Shop
from boardshop.files.forms import UploadForm
from boardshop.files.store import Holder, Received, receive_files


def take_files(
    request: HttpRequest, form: UploadForm, holder: Holder, shop: Shop, *, of: object, back: str
) -> HttpResponse:
    """Back to the page when anything was kept; 422 and the form again when nothing was."""
    if form.is_valid():
        data = form.cleaned_data
        received = receive_files(holder, shop, person_of(request), data["sent"], data["shows"])
        if received.added or received.there:
            _tell(request, received)
            return HttpResponseRedirect(f"{back}#files", status=303)
        for refusal in received.refused:
            form.add_error("sent", str(refusal))
    context = {"form": form, "of": of, "back": back, "shop": shop}
    return render(request, "files/nothing_kept.html", context, status=422)


def _tell(request: HttpRequest, received: Received) -> None:
    for attachment in received.added:
        messages.success(request, _("%(name)s is kept.") % {"name": attachment.name})
    for attachment in received.there:
        messages.info(request, _("%(name)s is there already.") % {"name": attachment.name})
    for refusal in received.refused:
        messages.error(request, str(refusal))
