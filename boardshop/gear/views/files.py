"""Photos and files of gear."""

from django.http import HttpRequest, HttpResponseBase
from django.views.decorators.http import require_POST

from boardshop.files.forms import UploadForm
from boardshop.files.receiving import take_files
from boardshop.gear.access import get_gear_for, get_kind
from boardshop.gear.held_files import holder_of


@require_POST
def add_gear_files(request: HttpRequest, kind: str, pk: int) -> HttpResponseBase:
    gear = get_gear_for(request.user, get_kind(kind), pk, editing=True)
    holder = holder_of(gear)
    form = UploadForm(request.POST, request.FILES)
    return take_files(request, form, holder, gear.shop, back=holder.page)
