"""Data sheets of pedals."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_http_methods, require_safe

from boardshop.crew.access import get_shop_for, may_edit
from boardshop.gear import services
from boardshop.gear.access import get_pedal_model_for
from boardshop.gear.forms.pedals import PedalSheet
from boardshop.gear.held_files import gear_files
from boardshop.gear.kinds import PEDALS
from boardshop.gear.shelves import pedal_record
from boardshop.gear.views.keeping import keep, keep_new, render_sheet, told, told_new


@require_safe
def show_pedal_model(request: HttpRequest, pk: int) -> HttpResponse:
    model = get_pedal_model_for(request.user, pk)
    editing = may_edit(request.user, model.shop)
    context = {
        "place": "gear",
        "model": model,
        "record": pedal_record(model),
        "units": model.units.select_related("owner"),
        "shop": model.shop,
        "may_edit": editing,
        "files": gear_files(model, editing=editing),
    }
    return render(request, "gear/show_pedal_model.html", context)


@require_http_methods(["GET", "POST"])
def add_pedal_model(request: HttpRequest) -> HttpResponse:
    shop = get_shop_for(request.user, editing=True)
    sheet = PedalSheet(shop, request.POST if request.method == "POST" else None)
    made, status = keep_new(request, sheet, PEDALS, lambda: services.add_pedal_model(shop, sheet.record()))
    if made is not None:
        return told_new(request, made)
    return render_sheet(request, "gear/add_pedal_model.html", {"sheet": sheet}, status)


@require_http_methods(["GET", "POST"])
def change_pedal_model(request: HttpRequest, pk: int) -> HttpResponse:
    model = get_pedal_model_for(request.user, pk, editing=True)
    stored = pedal_record(model)
    sheet = PedalSheet(model.shop, request.POST if request.method == "POST" else None, stored)
    kept, status = keep(request, sheet, lambda: sheet.change(model))
    if kept is not None:
        return told(request, kept, PEDALS)
    if status == 409:
        sheet.form.show_new_mark(stored)
    context = {"sheet": sheet, "model": model}
    return render_sheet(request, "gear/change_pedal_model.html", context, status)
