"""The way in and out, and the first start."""

from typing import Any

from allauth.account.internal.stagekit import clear_login
from allauth.account.utils import perform_login
from allauth.account.views import LoginView
from django.conf import settings
from django.contrib import messages
from django.contrib.auth import logout, update_session_auth_hash
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.forms import SetPasswordForm
from django.db import transaction
from django.http import HttpRequest, HttpResponse, HttpResponseBase
from django.shortcuts import redirect, render
from django.utils.decorators import method_decorator
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from boardshop.crew.access import signed_in
from boardshop.crew.accounts import devices, passkeys
from boardshop.crew.accounts.answers import HouseAnswers, answer_form
from boardshop.crew.accounts.forms import ChangePasswordForm
from boardshop.crew.audit import record_for_person
from boardshop.crew.forms import SetUpForm
from boardshop.crew.letting_in import find_way_in
from boardshop.crew.models import AuditEntry, Person
from boardshop.crew.setup import SetupClosed, needs_setup, set_up_shop, token_is_valid


def enter(request: HttpRequest, person: Person, then: str = "/") -> HttpResponse:
    """Sign the person in on this device and lead on to `then`; whoever has a second factor shows it first."""
    answer: HttpResponse = perform_login(request, person, redirect_url=then)
    return answer


def sign_in_facts(request: HttpRequest) -> dict[str, Any]:
    """What the sign-in page tells of this server."""
    hindered = passkeys.what_hinders(request)
    return {"needs_setup": needs_setup(), "hindered": hindered, "mail": settings.MAIL_IS_SENT}


class SignIn(HouseAnswers, LoginView):
    """Name and password, then on to where the person was going."""

    template_name = "crew/sign_in.html"

    @method_decorator(login_not_required)
    def dispatch(self, request: HttpRequest, *args: Any, **kwargs: Any) -> HttpResponseBase:
        if "afresh" in request.GET:
            clear_login(request)
        answer: HttpResponseBase = super().dispatch(request, *args, **kwargs)
        return answer

    def get_context_data(self, **more: Any) -> dict[str, Any]:
        context: dict[str, Any] = super().get_context_data(**more)
        return context | sign_in_facts(self.request)


@require_POST
def sign_out(request: HttpRequest) -> HttpResponse:
    logout(request)
    messages.success(request, _("You are signed out."))
    return redirect("sign-in")


@never_cache
@sensitive_post_parameters("old_password", "new_password1", "new_password2")
@require_http_methods(["GET", "POST"])
def change_password(request: HttpRequest) -> HttpResponse:
    """The signed-in person's own; this device stays signed in, all others are signed out."""
    person = signed_in(request)
    form = ChangePasswordForm(person, request.POST if request.method == "POST" else None)
    if not (request.method == "POST" and form.is_valid()):
        return answer_form(request, "crew/change_password.html", form)
    update_session_auth_hash(request, form.save())
    devices.note_device(request)
    devices.end_other_devices(person, keep=request.session.session_key)
    record_for_person(person, AuditEntry.Kind.SECURITY_CHANGED, _("password changed"))
    messages.success(request, _("Your password is changed. Other devices have to sign in again."))
    return redirect("account")


@login_not_required
@never_cache
@sensitive_post_parameters("new_password1", "new_password2")
@require_http_methods(["GET", "HEAD", "POST"])
@transaction.atomic
def let_in(request: HttpRequest, pk: int, token: str) -> HttpResponse:
    """Somebody who forgot the password sets a new one, by a link that was made on the server."""
    # Locked, so that of two who use the link at the same moment one finds it used.
    person = find_way_in(pk, token, is_used=request.method == "POST")
    if person is None:
        return render(request, "crew/let_in.html", status=404)
    form = SetPasswordForm(person, request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        form.save()
        devices.end_other_devices(person, keep=None)
        record_for_person(person, AuditEntry.Kind.SECURITY_CHANGED, _("password set by a link"))
        messages.success(request, _("Your password is set. Other devices have to sign in again."))
        return enter(request, person)
    return answer_form(request, "crew/let_in.html", form, person=person)


@login_not_required
@never_cache
@sensitive_post_parameters("password", "again")
@require_http_methods(["GET", "POST"])
def set_up(request: HttpRequest, token: str) -> HttpResponse:
    """The first start: a shop and its owner, once, for whoever holds the token from the log."""
    if not token_is_valid(token):
        return _closed(request)
    form = SetUpForm(request.POST if request.method == "POST" else None)
    if not (request.method == "POST" and form.is_valid()):
        return answer_form(request, "crew/set_up.html", form)
    typed = form.cleaned_data
    try:
        person = set_up_shop(
            token, shop_name=typed["shop_name"], username=typed["username"], password=typed["password"]
        )
    except SetupClosed:
        return _closed(request)
    messages.success(request, _("Your shop is set up. Add gear first, or start a board right away."))
    return enter(request, person)


def _closed(request: HttpRequest) -> HttpResponse:
    """410 once somebody has an account, 404 while a newer token is waiting in the log."""
    waiting = needs_setup()
    return render(request, "crew/set_up_closed.html", {"waiting": waiting}, status=404 if waiting else 410)
