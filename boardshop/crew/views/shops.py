"""Several shops of one person: starting one, and working in another."""

from functools import partial

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from boardshop.crew.access import get_membership_for, signed_in
from boardshop.crew.forms import AddShopForm
from boardshop.crew.once import make_once
from boardshop.crew.setup import start_shop
from boardshop.crew.shop_in_use import use_shop as work_in


@require_http_methods(["GET", "POST"])
def add_shop(request: HttpRequest) -> HttpResponse:
    """Anybody who is signed in may start one, and owns it."""
    form = AddShopForm(request.POST if request.method == "POST" else None)
    if not (form.is_bound and form.is_valid()):
        return render(request, "crew/add_shop.html", {"form": form}, status=422 if form.is_bound else 200)
    start = partial(start_shop, signed_in(request), form.cleaned_data["shop_name"])
    made = make_once(request, start, lambda _shop: "/")
    if made.thing is not None:
        work_in(request, made.thing)
        messages.success(request, _("%(shop)s is started, and you own it.") % {"shop": made.thing})
    return redirect(made.address)


@require_POST
def use_shop(request: HttpRequest) -> HttpResponse:
    """Work in another of one's own shops on this device; forms loaded in the former one are refused."""
    written = request.POST.get("shop", "")
    if not (written.isascii() and written.isdecimal() and len(written) < 19):
        raise Http404
    shop = get_membership_for(request.user, int(written)).shop
    work_in(request, shop)
    messages.success(request, _("You work in %(shop)s now, on this device.") % {"shop": shop})
    return redirect("/")
