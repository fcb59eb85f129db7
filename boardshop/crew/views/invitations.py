"""Links that let somebody into a shop."""

from functools import partial
from typing import Any

from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.cache import never_cache
from django.views.decorators.debug import sensitive_post_parameters
from django.views.decorators.http import require_http_methods, require_POST

from boardshop.crew import invitations as services
from boardshop.crew.access import get_invitation_for, get_owned_shop_for, person_of, signed_in
from boardshop.crew.errors import Refusal
from boardshop.crew.forms import AccountForm, InvitationForm
from boardshop.crew.models import Invitation, Membership, Person
from boardshop.crew.once import make_once
from boardshop.crew.shop_in_use import use_shop
from boardshop.crew.views.people import show_people
from boardshop.crew.views.signing import enter


@never_cache
@require_POST
def make_invitation(request: HttpRequest) -> HttpResponse:
    """Answers with the link itself: it is stored nowhere, so no other page could show it."""
    shop = get_owned_shop_for(request.user)
    form = InvitationForm(request.POST)
    if not form.is_valid():
        return show_people(request, form=form, status=422)
    typed = form.cleaned_data
    make = partial(services.make_invitation, shop, signed_in(request))
    made = make_once(
        request,
        partial(make, role=typed["role"], for_whom=typed["for_whom"]),
        lambda _token: reverse("people"),
    )
    if made.thing is None:
        messages.warning(request, _("That link was made and shown already; make another one if it is lost."))
        return redirect(made.address)
    context = {"shop": shop, "link": request.build_absolute_uri(reverse("join", args=[made.thing]))}
    context |= {"role": Membership.Role(typed["role"]).label, "for_whom": typed["for_whom"]}
    return render(request, "crew/make_invitation.html", context | {"kept_days": services.KEPT_DAYS})


@require_POST
def revoke_invitation(request: HttpRequest, pk: int) -> HttpResponse:
    invitation = get_invitation_for(request.user, pk)
    try:
        services.revoke_invitation(invitation, signed_in(request))
    except Refusal as refusal:
        return show_people(request, refusal=str(refusal), status=409)
    messages.success(request, _("That link opens no more."))
    return redirect("people")


@login_not_required
@never_cache
@sensitive_post_parameters("password", "again")
@require_http_methods(["GET", "HEAD", "POST"])
def join(request: HttpRequest, token: str) -> HttpResponse:
    """The way in for whoever holds the link.  Looking never uses it up: messengers look at links too."""
    invitation = services.find_invitation(token)
    person = person_of(request)
    if invitation is None:
        return _closed(request, "unknown", 404)
    membership = invitation.shop.memberships.filter(person=person).first() if person else None
    if membership is not None:
        context = {"membership": membership, "shop": invitation.shop}
        status = 409 if request.method == "POST" else 200
        return render(request, "crew/join_member.html", context, status=status)
    if invitation.state != Invitation.State.OPEN:
        return _closed(request, invitation.state, 410)
    if person is not None:
        return _join_as(request, invitation, person)
    return _join_as_somebody_new(request, invitation)


def _join_as(request: HttpRequest, invitation: Invitation, person: Person) -> HttpResponse:
    if request.method != "POST":
        return render(request, "crew/join.html", {"invitation": invitation})
    try:
        services.join_shop(invitation, person)
    except Refusal:
        # Between the look above and now somebody else was quicker, or the person in another tab.
        return _closed(request, _state_of(invitation), 410)
    return _welcome(request, invitation)


def _join_as_somebody_new(request: HttpRequest, invitation: Invitation) -> HttpResponse:
    form = AccountForm(request.POST if request.method == "POST" else None)
    if form.is_bound and form.is_valid():
        typed = form.cleaned_data
        try:
            person = services.join_with_new_account(
                invitation, username=typed["username"], password=typed["password"]
            )
        except services.InvitationClosed:
            return _closed(request, _state_of(invitation), 410)
        except Refusal as refusal:
            form.add_error(refusal.field or None, str(refusal))
        else:
            enter(request, person)
            return _welcome(request, invitation)
    context: dict[str, Any] = {"invitation": invitation, "form": form}
    return render(request, "crew/join.html", context, status=422 if form.is_bound else 200)


def _welcome(request: HttpRequest, invitation: Invitation) -> HttpResponse:
    use_shop(request, invitation.shop)
    words = _("You are a member of %(shop)s now, as %(role)s.")
    messages.success(request, words % {"shop": invitation.shop, "role": invitation.get_role_display()})
    return redirect("/")


def _state_of(invitation: Invitation) -> str:
    invitation.refresh_from_db()
    return invitation.state


def _closed(request: HttpRequest, state: str, status: int) -> HttpResponse:
    """Says why, and not of which shop: who holds a dead link needs no more."""
    return render(request, "crew/join_closed.html", {"state": str(state)}, status=status)
