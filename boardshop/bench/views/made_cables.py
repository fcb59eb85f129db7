"""The register of made cables: its list, one cable, adding and correcting one, and what fails."""

from __future__ import annotations

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_safe

from boardshop.bench import adding
from boardshop.bench.cable_page import cable_context
from boardshop.bench.forms.made_cables import FindCableForm, MadeCableForm
from boardshop.bench.register import count_shop_failures, list_cables
from boardshop.bench.table import register_table
from boardshop.boards.services.made_cables import link_of
from boardshop.crew.access import get_shop_for, may_edit
from boardshop.crew.answers import render_part
from boardshop.crew.audit import record_export
from boardshop.crew.once import make_once
from boardshop.gear.access import get_made_cable_for
from boardshop.gear.models import CableType
from boardshop.gear.services.made_cables import change_made_cable as change_cable
from boardshop.gear.services.made_cables import made_cable_record
from boardshop.gear.views.keeping import keep

ROWS_A_PAGE = 100


@require_safe
def made_cables(request: HttpRequest) -> HttpResponse:
    shop = get_shop_for(request.user)
    types = CableType.objects.filter(shop=shop).values_list("name", flat=True)
    form = FindCableForm(request.GET, types=list(types))
    wanted = form.wanted()
    rows = list_cables(shop, wanted, timezone.localdate())
    context = {
        "form": form,
        "shop": shop,
        "wanted": wanted,
        "is_filtered": any(wanted.values()),
        "page": Paginator(rows, ROWS_A_PAGE).get_page(request.GET.get("page")),
        "may_edit": may_edit(request.user, shop),
    }
    return render_part(request, "bench/made_cables.html", "found", context)


@require_safe
def show_made_cable(request: HttpRequest, code: str) -> HttpResponse:
    cable = get_made_cable_for(request.user, code)
    context = cable_context(cable, timezone.localdate())
    context["may_edit"] = may_edit(request.user, cable.shop)
    return render(request, "bench/show_made_cable.html", context)


@require_http_methods(["GET", "POST"])
def add_made_cable(request: HttpRequest) -> HttpResponse:
    """Blank, or with what a link (`?board=7K3MA&link=W3`) or a booked piece (`?piece=12`) says of it."""
    shop = get_shop_for(request.user, editing=True)
    piece = adding.asked_piece(request, shop)
    if request.method == "GET" and piece is not None and piece.made is not None:
        return adding.tell_made_already(request, piece)
    asked = adding.asked_link(request, shop, piece)
    data = request.POST if request.method == "POST" else None
    form = MadeCableForm(data, shop=shop, initial=adding.first_values(request, asked, piece))
    made, status = keep(request, form, lambda: make_once(
        request,
        lambda: adding.register(shop, form.record(), piece),
        lambda cable: adding.page_after(cable, asked, piece),
    ))  # fmt: skip
    if made is not None:
        if made.thing is not None:
            adding.tell_added(request, made.thing, asked)
        return redirect(made.address)
    back = adding.page_to_leave(asked, piece)
    context = {"form": form, "asked": asked, "shop": shop, "back": back}
    return render(request, "bench/add_made_cable.html", context, status=status)


@require_http_methods(["GET", "POST"])
def change_made_cable(request: HttpRequest, code: str) -> HttpResponse:
    cable = get_made_cable_for(request.user, code, editing=True)
    stored, data = made_cable_record(cable), request.POST if request.method == "POST" else None
    form = MadeCableForm(data, shop=cable.shop, record=stored)
    kept, status = keep(request, form, lambda: change_cable(cable, form.record(), seen=form.seen_mark))
    if kept is not None:
        messages.success(request, _("Cable %(id)s is kept.") % {"id": kept})
        return redirect("show-made-cable", kept.code)
    if status == 409:
        form.show_new_mark(stored)
    context = {"form": form, "cable": cable, "link": link_of(cable), "shop": cable.shop}
    return render(request, "bench/change_made_cable.html", context, status=status)


@require_safe
def cable_failures(request: HttpRequest) -> HttpResponse:
    shop = get_shop_for(request.user)
    return render(request, "bench/cable_failures.html", {"found": count_shop_failures(shop)})


@require_safe
def export_made_cables(request: HttpRequest) -> HttpResponse:
    shop = get_shop_for(request.user)
    table = register_table(shop, timezone.localdate())
    record_export(request, shop, _("the register of made cables"))
    answer = HttpResponse(table, content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = 'attachment; filename="made-cables.csv"'
    return answer
