"""Units: the physical pedals and supplies."""

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from boardshop.crew.access import get_shop_for, may_edit
from boardshop.gear import kinds, services
from boardshop.gear.access import get_unit_for
from boardshop.gear.forms.units import DrawForm, UnitForm
from boardshop.gear.held_files import gear_files
from boardshop.gear.shelves import unit_record
from boardshop.gear.views.keeping import keep
from boardshop.gear.views.single import add_one, change_one


@require_safe
def show_unit(request: HttpRequest, pk: int) -> HttpResponse:
    unit = get_unit_for(request.user, pk)
    editing = may_edit(request.user, unit.shop)
    form = DrawForm(unit=unit) if editing and unit.pedal else None
    context = {"place": "gear", "unit": unit, "may_edit": editing, "form": form}
    context["files"] = gear_files(unit, editing=editing)
    return render(request, "gear/show_unit.html", context)


@require_http_methods(["GET", "POST"])
def add_unit(request: HttpRequest) -> HttpResponse:
    shop = get_shop_for(request.user, editing=True)
    return add_one(request, shop, kinds.UNITS, UnitForm, services.add_unit)


@require_http_methods(["GET", "POST"])
def change_unit(request: HttpRequest, pk: int) -> HttpResponse:
    unit = get_unit_for(request.user, pk, editing=True)
    return change_one(request, unit, kinds.UNITS, UnitForm, unit_record(unit), services.change_unit)


@require_POST
def measure_draw(request: HttpRequest, pk: int) -> HttpResponse:
    unit = get_unit_for(request.user, pk, editing=True)
    form = DrawForm(request.POST, unit=unit)
    draw, status = keep(request, form, lambda: services.measure_draw(unit, form.draw()))
    if draw is not None:
        messages.success(request, _("%(draw)s is recorded.") % {"draw": draw})
        return redirect("show-unit", unit.pk)
    context = {"place": "gear", "unit": unit, "may_edit": True, "form": form}
    context["files"] = gear_files(unit, editing=True)
    return render(request, "gear/show_unit.html", context, status=status)
