"""Frame models: the empty boards of the catalogue."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.views.decorators.http import require_http_methods, require_safe

from boardshop.crew.access import get_shop_for, may_edit
from boardshop.gear import kinds, services
from boardshop.gear.access import get_frame_model_for
from boardshop.gear.forms.frames import FrameForm
from boardshop.gear.shelves import frame_record
from boardshop.gear.views.single import add_one, change_one


@require_safe
def show_frame_model(request: HttpRequest, pk: int) -> HttpResponse:
    frame = get_frame_model_for(request.user, pk)
    context = {
        "place": "gear",
        "model": frame,
        "record": frame_record(frame),
        "shop": frame.shop,
        "may_edit": may_edit(request.user, frame.shop),
    }
    return render(request, "gear/show_frame_model.html", context)


@require_http_methods(["GET", "POST"])
def add_frame_model(request: HttpRequest) -> HttpResponse:
    shop = get_shop_for(request.user, editing=True)
    return add_one(request, shop, kinds.FRAMES, FrameForm, services.add_frame_model)


@require_http_methods(["GET", "POST"])
def change_frame_model(request: HttpRequest, pk: int) -> HttpResponse:
    frame = get_frame_model_for(request.user, pk, editing=True)
    stored = frame_record(frame)
    return change_one(request, frame, kinds.FRAMES, FrameForm, stored, services.change_frame_model)
