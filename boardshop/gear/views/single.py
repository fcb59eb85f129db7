"""The one way in which gear of a single form is added and changed."""

from collections.abc import Callable
from typing import Any

from django.http import HttpRequest, HttpResponse

from boardshop.crew.models import Shop
from boardshop.files.section import FileSection
from boardshop.gear.forms.shop_form import RecordForm
from boardshop.gear.kinds import GearKind
from boardshop.gear.records import GearRecord
from boardshop.gear.views.keeping import keep, keep_new, render_sheet, told, told_new


def add_one(
    request: HttpRequest, shop: Shop, kind: GearKind, form_class: type[RecordForm], add: Callable[..., Any]
) -> HttpResponse:
    """Show the blank form, or add what was typed."""
    form = form_class(request.POST if request.method == "POST" else None, shop=shop)
    made, status = keep_new(request, form, kind, lambda: add(shop, form.record()))
    if made is not None:
        return told_new(request, made)
    return render_sheet(request, "gear/add_gear.html", {"form": form, "kind": kind}, status)


def change_one(
    request: HttpRequest,
    row: Any,
    kind: GearKind,
    form_class: type[RecordForm],
    stored: GearRecord,
    change: Callable[..., Any],
    files: FileSection | None = None,
) -> HttpResponse:
    """Show the form with what is stored and its `files`, or change it into what was typed."""
    data = request.POST if request.method == "POST" else None
    form = form_class(data, shop=row.shop, record=stored)
    kept, status = keep(request, form, lambda: change(row, form.record(), seen=form.seen_mark))
    if kept is not None:
        return told(request, kept, kind)
    if status == 409:
        form.show_new_mark(stored)
    context = {"form": form, "kind": kind, "row": row, "known_as": str(stored), "files": files}
    return render_sheet(request, "gear/change_gear.html", context, status)
