"""What an owner looks up later: who came in, who was let in, what left."""

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_safe

from boardshop.crew.access import get_owned_shop_for
from boardshop.crew.audit import audit_table, list_entries, record_export
from boardshop.crew.forms import AuditFilterForm

ENTRIES_ON_A_PAGE = 100


@require_safe
def audit(request: HttpRequest) -> HttpResponse:
    shop = get_owned_shop_for(request.user)
    form = AuditFilterForm(request.GET)
    kind = form.cleaned_data["kind"] if form.is_valid() else ""
    entries = Paginator(list_entries(shop, kind), ENTRIES_ON_A_PAGE).get_page(request.GET.get("page"))
    context = {"shop": shop, "form": form, "kind": kind, "entries": entries}
    return render(request, "crew/audit.html", context, status=200 if form.is_valid() else 422)


@require_safe
def export_audit(request: HttpRequest) -> HttpResponse:
    """All of it, oldest first; that it was taken out is recorded first, and stands in the file."""
    shop = get_owned_shop_for(request.user)
    record_export(request, shop, "audit")
    answer = HttpResponse(audit_table(shop), content_type="text/csv; charset=utf-8")
    answer["Content-Disposition"] = 'attachment; filename="boardshop-audit.csv"'
    return answer
