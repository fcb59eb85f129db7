"""Taking gear off the lists, after a question."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from boardshop.crew.access import get_shop_for
from boardshop.gear import services
from boardshop.gear.access import get_gear_for, get_kind
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
            services.delete_gear(row)
        except GearInUse as error:
            refusal = lengths_in(str(error), shop)
        else:
            messages.success(request, _("%(name)s is off the list.") % {"name": name})
            return redirect(list_of(of_kind))
    stock = row.stock.count() if isinstance(row, CableType) else 0
    context = {"place": "gear", "name": name, "kind": of_kind, "refusal": refusal, "stock": stock}
    context["back"] = page_of(of_kind, row)
    return render(request, "gear/delete_gear.html", context, status=422 if refusal else 200)
