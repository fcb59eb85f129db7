"""A photo or file itself, and what its shop says about it."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse, HttpResponseBase, HttpResponseRedirect
from django.shortcuts import render
from django.urls import reverse
from django.utils.cache import get_conditional_response
from django.utils.http import content_disposition_header
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from boardshop.crew.access import person_of
from boardshop.crew.answers import back_of
from boardshop.crew.notices import tell_trashed
from boardshop.files import store
from boardshop.files.access import get_attachment_for
from boardshop.files.forms import DescribeForm
from boardshop.files.models import Attachment, Content

KEPT_BY_BROWSERS = "private, max-age=86400, immutable"
"""A key's bytes never change; a day, so that what somebody may no longer see does not stay long."""


@require_safe
def show_file(request: HttpRequest, key: str) -> HttpResponseBase:
    attachment = get_attachment_for(request.user, key)
    return _serve(request, attachment, attachment.content_id, attachment.media_type)


@require_safe
def show_thumbnail(request: HttpRequest, key: str) -> HttpResponseBase:
    attachment = get_attachment_for(request.user, key)
    if attachment.thumbnail_id is None:
        return HttpResponse(status=404)
    return _serve(request, attachment, attachment.thumbnail_id, "image/jpeg")


@require_http_methods(["GET", "POST"])
def change_file(request: HttpRequest, key: str) -> HttpResponse:
    attachment = get_attachment_for(request.user, key, editing=True)
    form = DescribeForm(request.POST if request.method == "POST" else None, instance=attachment)
    if form.is_bound and form.is_valid():
        store.describe_file(attachment, **form.cleaned_data)
        return _go_back(request)
    context = {"form": form, "file": attachment, "back": back_of(request)}
    return render(request, "files/change_file.html", context, status=422 if form.is_bound else 200)


@require_POST
def remove_file(request: HttpRequest, key: str) -> HttpResponse:
    attachment = get_attachment_for(request.user, key, editing=True, with_trash=True)
    store.remove_file(attachment, person_of(request))
    said = _("%(name)s is in the trash for 30 days.") % {"name": attachment}
    tell_trashed(request, said, reverse("put-back-file", args=[attachment.key]))
    return _go_back(request)


@require_POST
def put_back_file(request: HttpRequest, key: str) -> HttpResponse:
    attachment = get_attachment_for(request.user, key, editing=True, with_trash=True)
    store.put_back_file(attachment)
    messages.success(request, _("%(name)s is back.") % {"name": attachment})
    return _go_back(request)


def _serve(
    request: HttpRequest, attachment: Attachment, content_id: int, media_type: str
) -> HttpResponseBase:
    sha256 = Content.objects.values_list("sha256", flat=True).get(pk=content_id)
    answer = get_conditional_response(request, etag=f'"{sha256}"')
    if answer is None:
        content = bytes(Content.objects.values_list("content", flat=True).get(pk=content_id))
        answer = HttpResponse(content, content_type=media_type)
        name = content_disposition_header(not attachment.is_photo, _name_of(attachment))
        answer["Content-Disposition"] = name or "inline"
    answer["ETag"] = f'"{sha256}"'
    answer["Cache-Control"] = KEPT_BY_BROWSERS
    answer["X-Content-Type-Options"] = "nosniff"
    # Should a browser show it as a page after all, nothing in it may run or load.
    answer["Content-Security-Policy"] = "sandbox; default-src 'none'"
    return answer


def _name_of(attachment: Attachment) -> str:
    """Its name with the ending of what it is now: a PNG that came in is kept as a JPEG."""
    stem = attachment.name.rpartition(".")[0] or attachment.name
    return stem + (".jpg" if attachment.is_photo else ".pdf")


def _go_back(request: HttpRequest) -> HttpResponse:
    return HttpResponseRedirect(f"{back_of(request)}#files", status=303)
