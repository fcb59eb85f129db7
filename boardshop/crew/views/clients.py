"""Artists and customers."""

from functools import partial
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST, require_safe

from boardshop.crew import clients as services
from boardshop.crew.access import clients_for, get_client_for, get_shop_for, may_edit, person_of
from boardshop.crew.answers import back_of
from boardshop.crew.errors import ChangedMeanwhile, Refusal
from boardshop.crew.forms import ClientForm
from boardshop.crew.models import Client
from boardshop.crew.notices import tell_trashed
from boardshop.crew.once import make_once


@require_safe
def clients(request: HttpRequest) -> HttpResponse:
    shop = get_shop_for(request.user)
    context = {"clients": clients_for(request.user), "may_edit": may_edit(request.user, shop)}
    return render(request, "crew/clients.html", context)


@require_http_methods(["GET", "POST"])
def add_client(request: HttpRequest) -> HttpResponse:
    shop = get_shop_for(request.user, editing=True)
    return _keep(request, Client(shop=shop), "crew/add_client.html")


@require_http_methods(["GET", "POST"])
def change_client(request: HttpRequest, pk: int) -> HttpResponse:
    client = get_client_for(request.user, pk, editing=True)
    return _keep(request, client, "crew/change_client.html")


@require_http_methods(["GET", "POST"])
def delete_client(request: HttpRequest, pk: int) -> HttpResponse:
    """After a question; it names the boards where it is refused."""
    client = get_client_for(request.user, pk, editing=True)
    context: dict[str, Any] = {"client": client}
    if request.method == "POST":
        try:
            services.delete_client(client, person_of(request))
        except services.ClientInUse as refusal:
            context["refusal"] = str(refusal)
        else:
            said = _("%(name)s is in the trash for 30 days.") % {"name": client.name}
            tell_trashed(request, said, reverse("restore-client", args=[client.pk]))
            return redirect("clients")
    return render(request, "crew/delete_client.html", context, status=422 if "refusal" in context else 200)


@require_POST
def restore_client(request: HttpRequest, pk: int) -> HttpResponse:
    """Back onto the list; what cannot come back is told on a page of its own."""
    client = get_client_for(request.user, pk, editing=True, with_trash=True)
    try:
        services.restore_client(client)
    except Refusal as refusal:
        context = {"name": client.name, "refusal": str(refusal)}
        return render(request, "crew/restore_client.html", context, status=422)
    messages.success(request, _("%(name)s is back on the list.") % {"name": client.name})
    return redirect(back_of(request, reverse("trash")))


def _keep(request: HttpRequest, client: Client, template: str) -> HttpResponse:
    known_as = client.name
    form = ClientForm(request.POST if request.method == "POST" else None, instance=client)
    status = 422 if form.is_bound else 200
    if request.method == "POST" and form.is_valid():
        try:
            made = make_once(request, partial(_store, form), lambda _client: reverse("clients"))
        except Refusal as refusal:
            form.add_error(refusal.field or None, str(refusal))
            status = 409 if isinstance(refusal, ChangedMeanwhile) else 422
        else:
            twice = made.thing is None
            said = _("%(name)s: sent twice, kept once.") if twice else _("%(name)s is kept.")
            messages.success(request, said % {"name": client.name})
            return redirect(made.address)
    context = {"form": form, "known_as": known_as, "client": client}
    return render(request, template, context, status=status)


def _store(form: ClientForm) -> Client:
    form.keep_unless_changed(lambda: services.keep_client(form.instance))
    return form.instance
