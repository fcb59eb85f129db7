"""Cable types, plug types and the cable on the shelf."""

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_http_methods

from boardshop.crew.access import get_shop_for
from boardshop.gear import kinds, services
from boardshop.gear.access import get_cable_type_for, get_plug_type_for, get_stock_for
from boardshop.gear.forms.cables import CableForm, PlugForm, StockForm
from boardshop.gear.held_files import gear_files
from boardshop.gear.shelves import cable_record, plug_record, stock_record
from boardshop.gear.views.single import add_one, change_one


@require_http_methods(["GET", "POST"])
def add_cable_type(request: HttpRequest) -> HttpResponse:
    shop = get_shop_for(request.user, editing=True)
    return add_one(request, shop, kinds.CABLES, CableForm, services.add_cable_type)


@require_http_methods(["GET", "POST"])
def change_cable_type(request: HttpRequest, pk: int) -> HttpResponse:
    cable = get_cable_type_for(request.user, pk, editing=True)
    stored, files = cable_record(cable), gear_files(cable, editing=True)
    return change_one(request, cable, kinds.CABLES, CableForm, stored, services.change_cable_type, files)


@require_http_methods(["GET", "POST"])
def add_plug_type(request: HttpRequest) -> HttpResponse:
    shop = get_shop_for(request.user, editing=True)
    return add_one(request, shop, kinds.PLUGS, PlugForm, services.add_plug_type)


@require_http_methods(["GET", "POST"])
def change_plug_type(request: HttpRequest, pk: int) -> HttpResponse:
    plug = get_plug_type_for(request.user, pk, editing=True)
    return change_one(request, plug, kinds.PLUGS, PlugForm, plug_record(plug), services.change_plug_type)


@require_http_methods(["GET", "POST"])
def add_stock(request: HttpRequest) -> HttpResponse:
    shop = get_shop_for(request.user, editing=True)
    return add_one(request, shop, kinds.STOCK, StockForm, services.add_stock)


@require_http_methods(["GET", "POST"])
def change_stock(request: HttpRequest, pk: int) -> HttpResponse:
    stock = get_stock_for(request.user, pk, editing=True)
    return change_one(request, stock, kinds.STOCK, StockForm, stock_record(stock), services.change_stock)
