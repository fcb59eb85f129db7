"""Tables of gear: bringing one in after a dry run, and taking one out."""

from functools import partial

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from boardshop.crew.access import get_shop_for
from boardshop.crew.audit import record_export
from boardshop.crew.models import Shop
from boardshop.crew.once import make_once
from boardshop.crew.uploads import limit_text
from boardshop.gear.access import get_kind
from boardshop.gear.csv_import import plan as plans
from boardshop.gear.csv_import.carrying import Carried, NotCarried, pack, unpack
from boardshop.gear.csv_import.export import export_table, template_table
from boardshop.gear.csv_import.plan import GearChangedMeanwhile, ImportPlan, ImportRefused
from boardshop.gear.csv_import.sheets import sheet_of
from boardshop.gear.csv_import.table import MOST_ROWS, TableError
from boardshop.gear.forms.importing import ApplyForm, TableForm
from boardshop.gear.kinds import GearKind
from boardshop.gear.views.keeping import list_of


@require_http_methods(["GET", "POST"])
def import_gear(request: HttpRequest, kind: str) -> HttpResponse:
    shop, of_kind = get_shop_for(request.user, editing=True), get_kind(kind)
    form = TableForm(request.POST, request.FILES) if request.method == "POST" else TableForm()
    if form.is_bound and form.is_valid():
        try:
            return _dry_run(request, shop, of_kind, form.cleaned_data["file"])
        except TableError as error:
            form.add_error("file", str(error))
    return _ask_for_file(request, shop, of_kind, form, 422 if form.is_bound else 200)


@require_POST
def apply_import(request: HttpRequest, kind: str) -> HttpResponse:
    shop, of_kind = get_shop_for(request.user, editing=True), get_kind(kind)
    form = ApplyForm(request.POST)
    carried = None
    try:
        form.is_valid()
        carried = unpack(shop, of_kind, form.cleaned_data.get("carried", ""))
        made = make_once(request, partial(_bring_in, shop, of_kind, carried), lambda _plan: list_of(of_kind))
    except (GearChangedMeanwhile, ImportRefused) as refusal:
        assert carried is not None
        return _dry_run(request, shop, of_kind, carried.content, str(refusal), status=409)
    except NotCarried as refusal:
        blank = TableForm(request.POST)
        blank.add_error(None, str(refusal))
        return _ask_for_file(request, shop, of_kind, blank, 422)
    words = _("Brought in: %(new)s new, %(changed)s changed, %(unchanged)s as they were.")
    if made.thing is None:
        messages.info(request, _("This table was sent twice; it is brought in once."))
    else:
        messages.success(request, words % made.thing.counts)
    return redirect(made.address)


@require_safe
def export_gear(request: HttpRequest, kind: str) -> HttpResponse:
    shop, of_kind = get_shop_for(request.user), get_kind(kind)
    name = f"boardshop-{of_kind.slug}.csv"
    record_export(request, shop, name)
    return _as_file(export_table(shop, sheet_of(of_kind)), name)


@require_safe
def download_template(request: HttpRequest, kind: str) -> HttpResponse:
    get_shop_for(request.user)
    of_kind = get_kind(kind)
    return _as_file(template_table(sheet_of(of_kind)), f"boardshop-{of_kind.slug}-template.csv")


def _bring_in(shop: Shop, kind: GearKind, carried: Carried) -> ImportPlan:
    return plans.apply_import(shop, sheet_of(kind), carried.content, carried.mark)


def _dry_run(
    request: HttpRequest, shop: Shop, kind: GearKind, content: bytes, refusal: str = "", status: int = 200
) -> HttpResponse:
    plan = plans.try_import(shop, sheet_of(kind), content)
    carried = pack(shop, kind, Carried(content, plan.mark)) if plan.can_be_applied else ""
    context = {"place": "gear", "kind": kind, "plan": plan, "refusal": refusal, "shop": shop}
    context["form"] = ApplyForm(initial={"carried": carried}) if carried else None
    return render(request, "gear/dry_run.html", context, status=status)


def _ask_for_file(
    request: HttpRequest, shop: Shop, kind: GearKind, form: TableForm, status: int
) -> HttpResponse:
    context = {"place": "gear", "kind": kind, "form": form, "shop": shop, "limit": limit_text()}
    context |= {"columns": sheet_of(kind).columns, "most_rows": MOST_ROWS}
    return render(request, "gear/import_gear.html", context, status=status)


def _as_file(content: bytes, name: str) -> HttpResponse:
    answer = HttpResponse(content, content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer
