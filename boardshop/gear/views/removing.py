"""Taking gear off the lists, after a question."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.html import format_html
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from boardshop.crew.access import get_shop_for, person_of
from boardshop.crew.answers import back_of
from boardshop.crew.errors import Refusal
from boardshop.crew.notices import tell_trashed
from boardshop.gear import services
from boardshop.gear.access import get_gear_for, get_kind, get_trashed_gear_for
from boardshop.gear.errors import GearInUse
from boardshop.gear.models import CableType
from boardshop.gear.templatetags.lengths import lengths_in
from boardshop.gear.views.keeping import list_of, page_of


@require_http_methods(["GET", "POST"])
def delete_gear(request: HttpRequest, kind: str, pk: int) -> HttpResponse:
    shop, of_kind = get_shop_for(request.user, editing=True), get_kind(kind)
    row = get_gear_for(request.user, of_kind, pk, editing=True)
    name, refusal = lengths_in(str(row), shop), ""
    if request.method == "POST":
        try:
            services.delete_gear(row, person_of(request))
        except GearInUse as error:
            refusal = lengths_in(str(error), shop)
        else:
            said = _("%(name)s is in the trash for 30 days.") % {"name": name}
            tell_trashed(request, said, reverse("restore-gear", args=[of_kind.slug, row.pk]))
            return redirect(list_of(of_kind))
    stock = row.stock.count() if isinstance(row, CableType) else 0
    context = {"place": "gear", "name": name, "kind": of_kind, "refusal": refusal, "stock": stock}
    context["back"] = page_of(of_kind, row)
    return render(request, "gear/delete_gear.html", context, status=422 if refusal else 200)


@require_POST
def restore_gear(request: HttpRequest, kind: str, pk: int) -> HttpResponse:
    """Back onto its list; what cannot come back is told on a page of its own."""
    shop, of_kind = get_shop_for(request.user), get_kind(kind)
    row = get_trashed_gear_for(request.user, of_kind, pk, editing=True)
    name = lengths_in(str(row), shop)
    try:
        services.restore_gear(row)
    except Refusal as refusal:
        context = {"place": "gear", "name": name, "refusal": lengths_in(str(refusal), shop)}
        return render(request, "gear/restore_gear.html", context, status=422)
    again = reverse("delete-gear", args=[of_kind.slug, row.pk])
    said = _("%(name)s is back on its list.") % {"name": name}
    messages.success(request, format_html('{} <a href="{}">{}</a>', said, again, _("Delete it again")))
    return redirect(back_of(request, reverse("trash")))
