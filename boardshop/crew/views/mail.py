"""The mail address of one's account, and the link for a new password that goes there."""

import logging

from allauth.account.decorators import reauthentication_required
from allauth.core.ratelimit import consume
from django.conf import settings
from django.contrib import messages
from django.contrib.auth.decorators import login_not_required
from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_http_methods

from boardshop.crew.access import signed_in
from boardshop.crew.accounts import mail
from boardshop.crew.accounts.answers import answer_form
from boardshop.crew.accounts.forms import ForgotPasswordForm, MailForm
from boardshop.crew.accounts.limits import wait_of

log = logging.getLogger(__name__)
REFUSED = gettext_lazy(
    "The mail server did not take it, so nothing was sent. Try again later, or ask who runs the server."
)


@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def change_mail(request: HttpRequest) -> HttpResponse:
    """A new address counts once the link that goes to it is opened; a blank one is removed at once."""
    if not settings.MAIL_IS_SENT:
        raise Http404
    answer: HttpResponse = _change_mail(request)
    return answer


@reauthentication_required
def _change_mail(request: HttpRequest) -> HttpResponse:
    person = signed_in(request)
    form = MailForm(request.POST if request.method == "POST" else None, initial={"address": person.email})
    if not (request.method == "POST" and form.is_valid()):
        return answer_form(request, "crew/change_mail.html", form)
    address = form.cleaned_data["address"]
    if not address:
        mail.change_address(person, "")
        messages.success(request, _("No mail address is kept any more."))
        return redirect("account")
    try:
        mail.ask_to_confirm(person, address)
    except OSError:
        log.exception("The mail server refused a mail")
        form.add_error(None, REFUSED)
        return answer_form(request, "crew/change_mail.html", form)
    words = _("A link went to %(address)s; the address counts once you open it.")
    messages.success(request, words % {"address": address})
    return redirect("account")


@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def confirm_mail(request: HttpRequest, token: str) -> HttpResponse:
    """Looking never uses a link up: mail filters look at links too."""
    person = signed_in(request)
    address = mail.find_address(person, token)
    if address is None:
        return render(request, "crew/confirm_mail.html", status=404)
    if request.method != "POST":
        return render(request, "crew/confirm_mail.html", {"address": address})
    mail.change_address(person, address)
    messages.success(
        request, _("A link for a new password can go to %(address)s now.") % {"address": address}
    )
    return redirect("account")


@login_not_required
@never_cache
@require_http_methods(["GET", "HEAD", "POST"])
def forgot_password(request: HttpRequest) -> HttpResponse:
    """Answers the same whether there is such an account or not."""
    form = ForgotPasswordForm(request.POST if request.method == "POST" else None)
    context = {"mail": settings.MAIL_IS_SENT}
    if not (request.method == "POST" and form.is_valid() and settings.MAIL_IS_SENT):
        return answer_form(request, "crew/forgot_password.html", form, **context)
    typed = form.cleaned_data["who"]
    if not all(consume(request, action="reset_by_mail", key=key) for key in mail.limits_of(request, typed)):
        answer = render(request, "429.html", status=429)
        answer["Retry-After"] = str(wait_of("reset_by_mail"))
        return answer
    mail.send_ways_in(typed)
    return render(request, "crew/forgot_password.html", context | {"sent_to": typed})
