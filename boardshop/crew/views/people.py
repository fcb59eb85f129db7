"""The people of the shop in use."""

from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from boardshop.crew import people as services
from boardshop.crew.access import get_member_for, get_membership_in_use, get_owned_shop_for, signed_in
from boardshop.crew.errors import Refusal
from boardshop.crew.forms import HandOverForm, InvitationForm, RoleForm
from boardshop.crew.invitations import KEPT_DAYS, open_invitations
from boardshop.crew.models import Membership
from boardshop.crew.shop_in_use import find_shops


@require_safe
def people(request: HttpRequest) -> HttpResponse:
    return show_people(request)


@require_POST
def change_role(request: HttpRequest, pk: int) -> HttpResponse:
    member = get_member_for(request.user, pk)
    form = RoleForm(request.POST)
    if not form.is_valid():
        return show_people(request, refusal=" ".join(map(str, form.errors["role"])), status=422)
    try:
        services.change_role(member.shop, signed_in(request), member, form.cleaned_data["role"])
    except Refusal as refusal:
        return show_people(request, refusal=str(refusal), status=409)
    messages.success(request, _("The role of %(person)s is kept.") % {"person": member.person})
    return redirect("people")


@require_http_methods(["GET", "POST"])
def remove_member(request: HttpRequest, pk: int) -> HttpResponse:
    """Asks first."""
    member = get_member_for(request.user, pk)
    context: dict[str, Any] = {"member": member, "shop": member.shop}
    if request.method == "GET":
        return render(request, "crew/remove_member.html", context)
    try:
        services.remove_member(member.shop, signed_in(request), member)
    except Refusal as refusal:
        return render(request, "crew/remove_member.html", context | {"refusal": refusal}, status=409)
    words = _("%(person)s is no longer a member of %(shop)s.")
    messages.success(request, words % {"person": member.person, "shop": member.shop})
    return redirect("people")


@require_http_methods(["GET", "POST"])
def leave_shop(request: HttpRequest) -> HttpResponse:
    """Asks first; the form names the shop, so that nobody leaves another one than they read of."""
    membership = get_membership_in_use(request.user)
    context: dict[str, Any] = {"shop": membership.shop, "membership": membership}
    if request.method == "GET":
        context["is_last"] = services.is_last_owner(membership)
        return render(request, "crew/leave_shop.html", context)
    if request.POST.get("shop") != str(membership.shop_id):
        context["refusal"] = _("Read which shop this is, and say once more that you leave it.")
        return render(request, "crew/leave_shop.html", context, status=422)
    try:
        services.leave_shop(membership.shop, signed_in(request))
    except Refusal as refusal:
        return render(request, "crew/leave_shop.html", context | {"refusal": refusal}, status=409)
    messages.success(request, _("You have left %(shop)s.") % {"shop": membership.shop})
    return redirect("/")


@require_http_methods(["GET", "POST"])
def hand_over_shop(request: HttpRequest) -> HttpResponse:
    """The page that asks is the form: to whom."""
    shop, person = get_owned_shop_for(request.user), signed_in(request)
    others = services.members_of(shop).exclude(person=person)
    form = HandOverForm(request.POST if request.method == "POST" else None, others)
    status = 422 if form.is_bound else 200
    if form.is_bound and form.is_valid():
        member = form.cleaned_data["member"]
        try:
            services.hand_over_shop(shop, person, member)
        except Refusal as refusal:
            form.add_error(None, str(refusal))
            status = 409
        else:
            words = _("%(person)s owns %(shop)s now; you are an editor.")
            messages.success(request, words % {"person": member.person, "shop": shop})
            return redirect("people")
    context = {"form": form, "shop": shop, "others": others}
    return render(request, "crew/hand_over_shop.html", context, status=status)


def show_people(
    request: HttpRequest, *, form: InvitationForm | None = None, refusal: str = "", status: int = 200
) -> HttpResponse:
    """The list; an owner's with what changes it and the links that are still open."""
    mine = get_membership_in_use(request.user)
    context: dict[str, Any] = {"shop": mine.shop, "mine": mine, "refusal": refusal, "kept_days": KEPT_DAYS}
    context |= {"members": services.members_of(mine.shop), "roles": Membership.Role.choices}
    if mine.role == Membership.Role.OWNER:
        context |= {"form": form or InvitationForm(), "invitations": open_invitations(mine.shop)}
    context["others"] = [
        one for one in find_shops(signed_in(request)).memberships if one.shop_id != mine.shop_id
    ]
    return render(request, "crew/people.html", context, status=status)
