"""The shop's lists of gear, with one search over all of them."""

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_safe

from boardshop.crew.access import get_shop_for, may_edit
from boardshop.crew.answers import render_part
from boardshop.gear.forms.find import FindGearForm
from boardshop.gear.kinds import KINDS

ROWS_A_PAGE = 100


@require_safe
def gear(request: HttpRequest) -> HttpResponse:
    shop = get_shop_for(request.user)
    form = FindGearForm(request.GET)
    kind, find = form.wanted()
    page = Paginator(kind.listed(shop, find), ROWS_A_PAGE).get_page(request.GET.get("page"))
    context = {
        "place": "gear",
        "form": form,
        "shop": shop,
        "kind": kind,
        "find": find,
        "page": page,
        "lists": [(other, other.found(shop, find).count()) for other in KINDS],
        "may_edit": may_edit(request.user, shop),
        "rows_template": f"gear/rows_of_{kind.slug}.html",
    }
    return render_part(request, "gear/gear.html", "lists", context)
