"""The shop's settings, and the theme of one screen."""

from django.conf import settings
from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.core.exceptions import SuspiciousOperation
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from boardshop.crew import theme
from boardshop.crew.access import get_owned_shop_for, get_shop_for, owns
from boardshop.crew.addresses import nearest_page, safe_address
from boardshop.crew.errors import ChangedMeanwhile
from boardshop.crew.forms import ShopSettingsForm, ThemeForm


@require_http_methods(["GET", "POST"])
def shop_settings(request: HttpRequest) -> HttpResponse:
    """An owner changes them, everybody else of the shop reads them."""
    if request.method == "GET" and not owns(request.user, shop := get_shop_for(request.user)):
        return render(request, "crew/shop_settings.html", {"shop": shop})
    shop = get_owned_shop_for(request.user)
    form = ShopSettingsForm(request.POST if request.method == "POST" else None, instance=shop)
    status = 422 if form.is_bound else 200
    if request.method == "POST" and form.is_valid():
        try:
            form.keep_unless_changed(form.save)
        except ChangedMeanwhile as refusal:
            form.add_error(None, str(refusal))
            status = 409
        else:
            messages.success(request, _("The settings of %(shop)s are kept.") % {"shop": shop})
            return redirect("shop-settings")
    return render(request, "crew/shop_settings.html", {"form": form}, status=status)


@login_not_required
@require_POST
def set_theme(request: HttpRequest) -> HttpResponse:
    """Keep the theme for this screen and go back to where one was."""
    form = ThemeForm(request.POST)
    if not form.is_valid():
        raise SuspiciousOperation(_("There is no such theme; choose one of those at the foot of a page."))
    back = safe_address(request, request.POST.get("next") or request.headers.get("Referer"), "/")
    answer = redirect(nearest_page(back) if back.startswith("/") else back)
    answer.set_cookie(
        theme.COOKIE,
        form.cleaned_data["theme"],
        max_age=theme.KEPT_SECONDS,
        secure=settings.SESSION_COOKIE_SECURE,
        httponly=True,
        samesite="Lax",
    )
    return answer
