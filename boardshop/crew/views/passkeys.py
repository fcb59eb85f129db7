"""Passkeys: signing in with one, and one's own."""

from typing import Any

from allauth.mfa.webauthn.views import (
    AddWebAuthnView,
    EditWebAuthnView,
    LoginWebAuthnView,
    ReauthenticateWebAuthnView,
    RemoveWebAuthnView,
)
from django.contrib import messages
from django.forms import Form
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse_lazy

from boardshop.crew.access import signed_in
from boardshop.crew.accounts import passkeys, second_factor
from boardshop.crew.accounts.answers import HouseAnswers, as_refused
from boardshop.crew.accounts.forms import SignInForm
from boardshop.crew.views.signing import sign_in_facts


class SignInByPasskey(LoginWebAuthnView):
    """Its page is the sign-in page; GET that accepts JSON gives what the browser asks the passkey."""

    def form_valid(self, form: Form) -> HttpResponse:
        answer: HttpResponse = super().form_valid(form)
        if not self.request.POST.get("remember"):
            self.request.session.set_expiry(0)
        return answer

    def form_invalid(self, form: Form) -> HttpResponse:
        typed = self.request.POST
        initial = {"login": typed.get("login", ""), "remember": bool(typed.get("remember"))}
        context = sign_in_facts(self.request) | {
            "form": SignInForm(request=self.request, initial=initial),
            "passkey_form": form,
            "redirect_field_value": typed.get("next", ""),
        }
        return as_refused(render(self.request, "crew/sign_in.html", context), form)


class ConfirmPasskey(HouseAnswers, ReauthenticateWebAuthnView):
    template_name = "crew/confirm.html"


class AddPasskey(HouseAnswers, AddWebAuthnView):
    template_name = "crew/add_passkey.html"
    success_url = reverse_lazy("account")

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        hindered = passkeys.what_hinders(request)
        if hindered:
            messages.error(request, hindered)
            return redirect("account")
        answer: HttpResponseBase = super().dispatch(request, *args, **kwargs)
        return answer

    def get_context_data(self, **more: Any) -> dict[str, Any]:
        context = super().get_context_data(**more)
        return context | {"wanted": passkeys.begin_passkey(signed_in(self.request))}

    def get_success_url(self) -> str:
        return str(self.success_url)

    def form_valid(self, form: Form) -> HttpResponse:
        answer: HttpResponse = super().form_valid(form)
        # The library makes recovery codes for every kind; here they stand in for the authenticator app alone.
        second_factor.drop_idle_codes(signed_in(self.request))
        return answer


class OwnPasskey(HouseAnswers):
    """Of somebody else's passkey nothing is told, not even that a password would be asked for."""

    success_url = reverse_lazy("account")

    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        get_object_or_404(passkeys.passkeys_of(signed_in(request)), pk=kwargs["pk"])
        answer: HttpResponseBase = super().dispatch(request, *args, **kwargs)  # type: ignore[misc]
        return answer


class RenamePasskey(OwnPasskey, EditWebAuthnView):
    template_name = "crew/rename_passkey.html"


class RemovePasskey(OwnPasskey, RemoveWebAuthnView):
    template_name = "crew/remove_passkey.html"
