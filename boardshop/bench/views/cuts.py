"""The cut list of a board, the cut plan of several, and the jobs that were booked."""

from __future__ import annotations

from typing import Any

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse, HttpResponseRedirect, QueryDict
from django.shortcuts import render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from boardshop.bench.access import cut_jobs_for, get_cut_job_for
from boardshop.bench.cut_work import gather_cuts
from boardshop.bench.errors import NothingToBook
from boardshop.bench.forms.cuts import CutForm
from boardshop.bench.pages.cut_list import CUT_LIST
from boardshop.bench.pages.cut_plan import describe_work, draw_job, say_proof
from boardshop.bench.services import cut_jobs as services
from boardshop.boards.access import boards_for, get_board_for
from boardshop.boards.views.pages import PAGES
from boardshop.core.cables.strip import LAYER_MM, SOLDERED
from boardshop.crew.access import get_shop_for, may_edit, person_of
from boardshop.crew.errors import Refusal
from boardshop.crew.models import Shop
from boardshop.gear.models import CableType
from boardshop.gear.templatetags.lengths import lengths_in

PAGES[CUT_LIST.name] = CUT_LIST
"""A finding that is kept on that page leads back to it."""
JOBS_A_PAGE = 50


@require_safe
def cut_list(request: HttpRequest, code: str) -> HttpResponse:
    return CUT_LIST.draw(request, get_board_for(request.user, code))


@require_safe
def cut_plan(request: HttpRequest) -> HttpResponse:
    """Boards and further pieces by the address, and the plan for all of them."""
    shop = get_shop_for(request.user)
    form = _form(request, shop, request.GET)
    return _draw_plan(request, shop, form, 200 if form.is_valid() else 422)


@require_POST
def book_cuts(request: HttpRequest) -> HttpResponse:
    """Take the plan that was shown out of the stock."""
    shop = get_shop_for(request.user, editing=True)
    form = _form(request, shop, request.POST)
    if not form.is_valid():
        return _draw_plan(request, shop, form, 422)
    try:
        work = gather_cuts(shop, form.asked())
        job = services.book_cuts(work, form.cleaned_data["seen"], person_of(request))
    except NothingToBook as refusal:
        return _draw_plan(request, shop, form, 422, str(refusal))
    except Refusal as refusal:
        return _draw_plan(request, shop, form, 409, lengths_in(str(refusal), shop))
    messages.success(request, _("Booked as job %(number)d.") % {"number": job.number})
    return HttpResponseRedirect(reverse("cut-job", args=[job.pk]), status=303)


@require_safe
def cut_jobs(request: HttpRequest) -> HttpResponse:
    """Every booking of the shop, newest first."""
    page = Paginator(cut_jobs_for(request.user), JOBS_A_PAGE).get_page(request.GET.get("page"))
    context = {"page": page, "shop": get_shop_for(request.user)}
    return render(request, "bench/cut_jobs.html", context)


@require_safe
def cut_job(request: HttpRequest, pk: int) -> HttpResponse:
    """One booking as it can be printed and worked through."""
    return _draw_job(request, get_cut_job_for(request.user, pk))


@require_POST
def take_back_cuts(request: HttpRequest, pk: int) -> HttpResponse:
    """Put the stock back as it was before the job."""
    job = get_cut_job_for(request.user, pk, editing=True)
    try:
        services.take_back_cuts(job, person_of(request))
    except Refusal as refusal:
        return _draw_job(request, job, 409, lengths_in(str(refusal), job.shop))
    messages.success(request, _("Job %(number)d is taken back.") % {"number": job.number})
    return HttpResponseRedirect(reverse("cut-job", args=[job.pk]), status=303)


def _form(request: HttpRequest, shop: Shop, data: QueryDict) -> CutForm:
    """With the shop's boards and cables to choose from, in two queries."""
    boards = list(boards_for(request.user).select_related("shop").order_by("name", "pk"))
    cables = list(CableType.objects.filter(shop=shop).values_list("name", flat=True))
    return CutForm(data, shop=shop, boards=boards, cables=cables)


def _draw_plan(
    request: HttpRequest, shop: Shop, form: CutForm, status: int, refused: str = ""
) -> HttpResponse:
    context: dict[str, Any] = {
        "shop": shop,
        "form": form,
        "refused": refused,
        "may_edit": may_edit(request.user, shop),
        "carried": _carried(form),
    }
    if form.is_valid():
        context |= describe_work(gather_cuts(shop, form.asked()))
    return render(request, "bench/cut_plan.html", context, status=status)


def _carried(form: CutForm) -> list[tuple[str, str]]:
    """What a booking sends along: everything that was asked, but what was seen and the token."""
    data = form.data
    assert isinstance(data, QueryDict)
    left_out = ("seen", "csrfmiddlewaretoken", "more-row")
    return [(name, value) for name, values in data.lists() if name not in left_out for value in values]


def _draw_job(request: HttpRequest, job: Any, status: int = 200, refused: str = "") -> HttpResponse:
    lengths = list(job.lengths.all())
    reels = sum(one.kind == "reel" for one in lengths)
    context = {
        "job": job,
        "shop": job.shop,
        "lengths": lengths,
        "strip_lengths": SOLDERED,
        "strip_layer": LAYER_MM,
        "drawing": draw_job(job, job.shop.length_unit),
        "proof": say_proof(job.is_optimal, job.bound, reels, bool(lengths)),
        "refused": refused,
        "may_edit": may_edit(request.user, job.shop),
    }
    return render(request, "bench/cut_job.html", context, status=status)
