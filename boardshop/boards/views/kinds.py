"""The pages that explain the kinds of pedal, the rules of order and those of power."""

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from boardshop.boards.pages.cable_rules import build_cable_rules
from boardshop.boards.pages.kinds import list_places, list_rules, name_slot
from boardshop.boards.pages.power_rules import build_power_rules
from boardshop.boards.pages.rules import list_rule_lines
from boardshop.core.kinds import KIND_NOTES
from boardshop.core.kinds.places import list_kinds
from boardshop.crew.access import get_shop_for


@require_safe
def kinds(request: HttpRequest) -> HttpResponse:
    get_shop_for(request.user)
    rows = [(name_slot(kind), KIND_NOTES[kind].summary) for kind in list_kinds()]
    return render(request, "boards/kinds.html", {"rows": rows})


@require_safe
def explain_kind(request: HttpRequest, kind: str) -> HttpResponse:
    get_shop_for(request.user)
    if kind not in KIND_NOTES:
        raise Http404
    line = list_kinds()
    at = line.index(kind)
    context = {
        "kind": name_slot(kind),
        "note": KIND_NOTES[kind],
        "places": list_places(kind),
        "rules": list_rules(kind),
        "previous": name_slot(line[at - 1]) if at else None,
        "next": name_slot(line[at + 1]) if at + 1 < len(line) else None,
    }
    return render(request, "boards/explain_kind.html", context)


@require_safe
def order_rules(request: HttpRequest) -> HttpResponse:
    get_shop_for(request.user)
    return render(request, "boards/order_rules.html", {"lines": list_rule_lines()})


@require_safe
def power_rules(request: HttpRequest) -> HttpResponse:
    get_shop_for(request.user)
    return render(request, "boards/power_rules.html", build_power_rules())


@require_safe
def cable_rules(request: HttpRequest) -> HttpResponse:
    get_shop_for(request.user)
    return render(request, "boards/cable_rules.html", build_cable_rules())
