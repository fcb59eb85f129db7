"""One's own account: how one signs in, and on which devices one is."""

from typing import Any

from allauth.account.views import ReauthenticateView
from allauth.mfa.base.views import AuthenticateView
from allauth.mfa.base.views import ReauthenticateView as CodeReauthenticateView
from allauth.mfa.models import Authenticator
from allauth.mfa.recovery_codes.views import GenerateRecoveryCodesView, ViewRecoveryCodesView
from allauth.mfa.totp.views import ActivateTOTPView, DeactivateTOTPView
from django.conf import settings
from django.contrib import messages
from django.forms import Form
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse_lazy
from django.utils.decorators import method_decorator
from django.utils.translation import gettext as _
from django.utils.translation import ngettext
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_POST, require_safe

from boardshop.crew.access import signed_in
from boardshop.crew.accounts import devices, passkeys, second_factor
from boardshop.crew.accounts.answers import HouseAnswers, as_refused
from boardshop.crew.audit import record_for_person
from boardshop.crew.models import AuditEntry


@never_cache
@require_safe
def account(request: HttpRequest) -> HttpResponse:
    person = signed_in(request)
    authenticators = {found.type: found for found in Authenticator.objects.filter(user=person).order_by("pk")}
    context = {
        "person": person,
        "passkeys": passkeys.passkeys_of(person),
        "hindered": passkeys.what_hinders(request),
        "app": authenticators.get(Authenticator.Type.TOTP),
        "devices": devices.list_devices(request, person),
        "mail": settings.MAIL_IS_SENT,
    }
    return render(request, "crew/account.html", context)


@require_POST
def end_device(request: HttpRequest, pk: int) -> HttpResponse:
    person = signed_in(request)
    if not devices.end_device(person, pk):
        raise Http404
    record_for_person(person, AuditEntry.Kind.SECURITY_CHANGED, _("a device was signed out"))
    messages.success(request, _("That device has to sign in again."))
    return redirect("account")


@require_POST
def end_other_devices(request: HttpRequest) -> HttpResponse:
    person = signed_in(request)
    ended = devices.end_other_devices(person, keep=request.session.session_key)
    record_for_person(person, AuditEntry.Kind.SECURITY_CHANGED, _("all other devices were signed out"))
    said = ngettext(
        "%(count)d other device has to sign in again.",
        "%(count)d other devices have to sign in again.",
        ended,
    )
    messages.success(request, said % {"count": ended})
    return redirect("account")


class TypeCode(AuthenticateView):
    """The second step of signing in: a code, or a passkey instead."""

    template_name = "crew/type_code.html"

    def form_invalid(self, form: Form) -> HttpResponse:
        return as_refused(super().form_invalid(form), form)

    def get_context_data(self, **more: Any) -> dict[str, Any]:
        context: dict[str, Any] = super().get_context_data(**more)
        person = self.stage.login.user
        has_passkey = passkeys.passkeys_of(person).exists() and not passkeys.what_hinders(self.request)
        return context | {"person": person, "has_passkey": has_passkey}


class ConfirmPassword(HouseAnswers, ReauthenticateView):
    template_name = "crew/confirm.html"


class ConfirmCode(HouseAnswers, CodeReauthenticateView):
    template_name = "crew/confirm.html"


class AddAuthenticator(HouseAnswers, ActivateTOTPView):
    template_name = "crew/add_authenticator.html"
    success_url = reverse_lazy("recovery-codes")

    def get_success_url(self) -> str:
        return str(self.success_url)


class RemoveAuthenticator(HouseAnswers, DeactivateTOTPView):
    template_name = "crew/remove_authenticator.html"
    success_url = reverse_lazy("account")

    def form_valid(self, form: Form) -> HttpResponse:
        answer: HttpResponse = super().form_valid(form)
        second_factor.drop_idle_codes(signed_in(self.request))
        return answer


@method_decorator(never_cache, name="dispatch")
class RecoveryCodes(ViewRecoveryCodesView):
    template_name = "crew/recovery_codes.html"


class RenewRecoveryCodes(HouseAnswers, GenerateRecoveryCodesView):
    template_name = "crew/renew_recovery_codes.html"
    success_url = reverse_lazy("recovery-codes")
