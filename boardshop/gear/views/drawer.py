"""The shop's drawer of leads and adapters."""

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_http_methods

from boardshop.crew.access import get_shop_for
from boardshop.gear import kinds, services
from boardshop.gear.access import get_drawer_item_for
from boardshop.gear.forms.drawer import DrawerForm
from boardshop.gear.shelves import drawer_record
from boardshop.gear.views.single import add_one, change_one


@require_http_methods(["GET", "POST"])
def add_drawer_item(request: HttpRequest) -> HttpResponse:
    shop = get_shop_for(request.user, editing=True)
    return add_one(request, shop, kinds.DRAWER, DrawerForm, services.add_drawer_item)


@require_http_methods(["GET", "POST"])
def change_drawer_item(request: HttpRequest, pk: int) -> HttpResponse:
    item = get_drawer_item_for(request.user, pk, editing=True)
    stored = drawer_record(item)
    return change_one(request, item, kinds.DRAWER, DrawerForm, stored, services.change_drawer_item)
