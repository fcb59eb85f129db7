"""What a person is told after something happened to a cable."""

from __future__ import annotations

from collections.abc import Callable

from django.contrib import messages
from django.http import HttpRequest
from django.urls import reverse
from django.utils.translation import gettext as _

from boardshop.bench.services.cable_tests import Happened
from boardshop.crew.once import Made, make_once
from boardshop.gear.models import MadeCable


def told_once(request: HttpRequest, cable: MadeCable, do: Callable[[], Happened]) -> Made[Happened]:
    """The same form sent twice is kept once, and leads to the cable's page both times."""
    return make_once(request, do, lambda _done: reverse("show-made-cable", args=[cable.code]))


def tell_happened(request: HttpRequest, happened: Happened | None) -> None:
    if happened is None:
        messages.info(request, _("This form was sent twice; what it says is kept once."))
        return
    cable = happened.cable
    if happened.judgement is not None:
        messages.success(request, f"{cable}: {happened.judgement.said}.")
    elif cable.is_scrapped:
        messages.success(request, _("Cable %(id)s is on the scrap; its id stays its own.") % {"id": cable})
    else:
        messages.success(request, _("The fault of cable %(id)s is recorded.") % {"id": cable})
    if happened.came_off:
        said = _("It came off %(there)s, which is to be given another cable.")
        messages.warning(request, said % {"there": happened.came_off})
