"""What happens to a made cable: a test, a fault, the scrap and the way back from it."""

from __future__ import annotations

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from boardshop.bench.forms.cable_tests import TestForm
from boardshop.bench.forms.made_cables import FaultForm, ScrapForm
from boardshop.bench.services import cable_tests as services
from boardshop.bench.telling import tell_happened, told_once
from boardshop.boards.services.made_cables import link_of
from boardshop.core.cables.testing import judge_test
from boardshop.crew.access import signed_in
from boardshop.crew.answers import render_part
from boardshop.crew.errors import Refusal
from boardshop.gear.access import get_made_cable_for
from boardshop.gear.made_cables import made_as
from boardshop.gear.services.made_cables import take_from_scrap
from boardshop.gear.views.keeping import keep


@require_http_methods(["GET", "POST"])
def test_cable(request: HttpRequest, code: str) -> HttpResponse:
    """The readings with their limits; `judge` asks what they come to without keeping them."""
    cable = get_made_cable_for(request.user, code, editing=True)
    data = request.POST if request.method == "POST" else None
    form = TestForm(data, cable=cable, initial={"on": timezone.localdate()})
    context = {"cable": cable, "shop": cable.shop, "form": form, "link": link_of(cable), "judged": None}
    if "judge" in request.POST:
        form.is_valid()
        context["judged"] = judge_test(made_as(cable), form.readings())
        return render_part(request, "bench/test_cable.html", "judged", context)
    done, status = keep(request, form, lambda: told_once(request, cable, lambda: services.record_test(
        cable, form.readings(), by=signed_in(request), **form.facts())))  # fmt: skip
    if done is not None:
        tell_happened(request, done.thing)
        return redirect(done.address)
    return render(request, "bench/test_cable.html", context, status=status)


@require_http_methods(["GET", "POST"])
def report_cable_fault(request: HttpRequest, code: str) -> HttpResponse:
    cable = get_made_cable_for(request.user, code, editing=True)
    data = request.POST if request.method == "POST" else None
    form = FaultForm(data, cable=cable, initial={"on": timezone.localdate()})
    done, status = keep(request, form, lambda: told_once(request, cable, lambda: services.report_fault(
        cable, by=signed_in(request), **form.fault())))  # fmt: skip
    if done is not None:
        tell_happened(request, done.thing)
        return redirect(done.address)
    context = {"cable": cable, "shop": cable.shop, "form": form, "link": link_of(cable)}
    return render(request, "bench/report_cable_fault.html", context, status=status)


@require_http_methods(["GET", "POST"])
def scrap_cable(request: HttpRequest, code: str) -> HttpResponse:
    cable = get_made_cable_for(request.user, code, editing=True)
    form = ScrapForm(request.POST if request.method == "POST" else None, shop=cable.shop)
    today, person = timezone.localdate(), signed_in(request)
    done, status = keep(
        request, form, lambda: services.scrap_cable(cable, on=today, by=person, why=form.cleaned_data["why"])
    )
    if done is not None:
        tell_happened(request, done)
        return redirect("show-made-cable", cable.code)
    context = {"cable": cable, "shop": cable.shop, "form": form, "link": link_of(cable)}
    return render(request, "bench/scrap_cable.html", context, status=status)


@require_POST
def unscrap_cable(request: HttpRequest, code: str) -> HttpResponse:
    cable = get_made_cable_for(request.user, code, editing=True)
    try:
        take_from_scrap(cable)
    except Refusal as refusal:
        messages.error(request, str(refusal))
    else:
        messages.success(
            request, _("Cable %(id)s is at the bench; test it before it is used.") % {"id": cable}
        )
    return redirect("show-made-cable", cable.code)
