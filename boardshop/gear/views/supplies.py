"""Data sheets of power supplies."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_http_methods, require_safe

from boardshop.crew.access import get_shop_for, may_edit
from boardshop.gear import services
from boardshop.gear.access import get_supply_model_for
from boardshop.gear.forms.supplies import SupplySheet
from boardshop.gear.kinds import SUPPLIES
from boardshop.gear.shelves import supply_record
from boardshop.gear.views.keeping import keep, keep_new, render_sheet, told, told_new


@require_safe
def show_supply_model(request: HttpRequest, pk: int) -> HttpResponse:
    model = get_supply_model_for(request.user, pk)
    context = {
        "place": "gear",
        "model": model,
        "record": supply_record(model),
        "units": model.units.select_related("owner"),
        "shop": model.shop,
        "may_edit": may_edit(request.user, model.shop),
    }
    return render(request, "gear/show_supply_model.html", context)


@require_http_methods(["GET", "POST"])
def add_supply_model(request: HttpRequest) -> HttpResponse:
    shop = get_shop_for(request.user, editing=True)
    sheet = SupplySheet(shop, request.POST if request.method == "POST" else None)
    made, status = keep_new(request, sheet, SUPPLIES, lambda: services.add_supply_model(shop, sheet.record()))
    if made is not None:
        return told_new(request, made)
    return render_sheet(request, "gear/add_supply_model.html", {"sheet": sheet}, status)


@require_http_methods(["GET", "POST"])
def change_supply_model(request: HttpRequest, pk: int) -> HttpResponse:
    model = get_supply_model_for(request.user, pk, editing=True)
    stored = supply_record(model)
    sheet = SupplySheet(model.shop, request.POST if request.method == "POST" else None, stored)
    kept, status = keep(request, sheet, lambda: sheet.change(model))
    if kept is not None:
        return told(request, kept, SUPPLIES)
    if status == 409:
        sheet.form.show_new_mark(stored)
    context = {"sheet": sheet, "model": model}
    return render_sheet(request, "gear/change_supply_model.html", context, status)
