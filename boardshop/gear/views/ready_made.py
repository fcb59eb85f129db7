"""The shop's cables that are bought with their plugs on."""

from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_http_methods

from boardshop.crew.access import get_shop_for
from boardshop.gear import kinds, services
from boardshop.gear.access import get_ready_made_for
from boardshop.gear.forms.ready_made import ReadyMadeForm
from boardshop.gear.shelves import ready_made_record
from boardshop.gear.views.single import add_one, change_one


@require_http_methods(["GET", "POST"])
def add_ready_made(request: HttpRequest) -> HttpResponse:
    shop = get_shop_for(request.user, editing=True)
    return add_one(request, shop, kinds.READY_MADE, ReadyMadeForm, services.add_ready_made)


@require_http_methods(["GET", "POST"])
def change_ready_made(request: HttpRequest, pk: int) -> HttpResponse:
    cable = get_ready_made_for(request.user, pk, editing=True)
    stored = ready_made_record(cable)
    return change_one(request, cable, kinds.READY_MADE, ReadyMadeForm, stored, services.change_ready_made)
