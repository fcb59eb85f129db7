"""The way in and out, and the first start."""

from django.contrib import messages
from django.contrib.auth import REDIRECT_FIELD_NAME, login, logout, update_session_auth_hash
from django.contrib.auth.base_user import AbstractBaseUser
from django.contrib.auth.decorators import login_not_required
from django.contrib.auth.forms import PasswordChangeForm, SetPasswordForm
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils import timezone
from django.utils.http import url_has_allowed_host_and_scheme
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from boardshop.crew.audit import record_for_person, record_refused_sign_in
from boardshop.crew.forms import SetUpForm, SignInForm
from boardshop.crew.letting_in import find_way_in
from boardshop.crew.models import AuditEntry, Person
from boardshop.crew.setup import SetupClosed, needs_setup, set_up_shop, token_is_valid


def safe_address(request: HttpRequest, address: str | None, fallback: str) -> str:
    """The address, if it lies on this server; else the fallback."""
    if address and url_has_allowed_host_and_scheme(
        address, {request.get_host()}, require_https=request.is_secure()
    ):
        return address
    return fallback


RENEWED_ON = "renewed-on"
"""The day on which a device's session was last given its whole length again."""


def address_of(request: HttpRequest) -> str:
    """Where the request came from, as far as the server in front of the app tells."""
    return str(request.META.get("REMOTE_ADDR", ""))[:60]


def enter(request: HttpRequest, person: AbstractBaseUser) -> None:
    """Sign the person in on this device, and write it into the audit of their shops."""
    assert isinstance(person, Person)
    login(request, person, backend="django.contrib.auth.backends.ModelBackend")
    request.session[RENEWED_ON] = timezone.localdate().isoformat()
    record_for_person(
        person, AuditEntry.Kind.SIGN_IN, _("from %(address)s") % {"address": address_of(request)}
    )


@login_not_required
@never_cache
@sensitive_post_parameters("password")
@require_http_methods(["GET", "POST"])
def sign_in(request: HttpRequest) -> HttpResponse:
    """Name and password, then on to where the person was going."""
    typed = request.POST if request.method == "POST" else None
    going = (typed or request.GET).get(REDIRECT_FIELD_NAME, "")
    target = safe_address(request, going, "/")
    if request.user.is_authenticated:
        return redirect(target)
    form = SignInForm(request, data=typed)
    if typed is not None and form.is_valid():
        enter(request, form.get_user())
        return redirect(target)
    if typed is not None:
        record_refused_sign_in(form.cleaned_data.get("username", ""), address_of(request))
    context = {"form": form, "next": going, "needs_setup": needs_setup()}
    return render(request, "crew/sign_in.html", context, status=422 if typed is not None else 200)


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
    person = request.user
    assert isinstance(person, Person)  # the middleware lets nobody else through
    form = PasswordChangeForm(person, request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        update_session_auth_hash(request, form.save())
        record_for_person(person, AuditEntry.Kind.SECURITY_CHANGED, _("password changed"))
        messages.success(request, _("Your password is changed. Other devices have to sign in again."))
        return redirect("boards")
    return render(request, "crew/change_password.html", {"form": form}, status=422 if form.is_bound else 200)


@login_not_required
@never_cache
@sensitive_post_parameters("new_password1", "new_password2")
@require_http_methods(["GET", "POST"])
def let_in(request: HttpRequest, pk: int, token: str) -> HttpResponse:
    """Somebody who forgot the password sets a new one, by a link that was made on the server."""
    person = find_way_in(pk, token)
    if person is None:
        return render(request, "crew/let_in.html", status=404)
    form = SetPasswordForm(person, request.POST if request.method == "POST" else None)
    if request.method == "POST" and form.is_valid():
        form.save()
        record_for_person(person, AuditEntry.Kind.SECURITY_CHANGED, _("password set by a link"))
        enter(request, person)
        messages.success(request, _("Your password is set. Other devices have to sign in again."))
        return redirect("boards")
    context = {"form": form, "person": person}
    return render(request, "crew/let_in.html", context, status=422 if form.is_bound else 200)


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
        return render(request, "crew/set_up.html", {"form": form}, status=422 if form.is_bound else 200)
    typed = form.cleaned_data
    try:
        person = set_up_shop(
            token, shop_name=typed["shop_name"], username=typed["username"], password=typed["password"]
        )
    except SetupClosed:
        return _closed(request)
    enter(request, person)
    messages.success(request, _("Your shop is set up. Add gear first, or start a board right away."))
    return redirect("boards")


def _closed(request: HttpRequest) -> HttpResponse:
    """410 once somebody has an account, 404 while a newer token is waiting in the log."""
    waiting = needs_setup()
    return render(request, "crew/set_up_closed.html", {"waiting": waiting}, status=404 if waiting else 410)
