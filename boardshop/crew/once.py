"""Forms that are sent twice make one thing: a double click, a resent page, two requests at once.

A form that makes something carries `once_field()`, a random token that is made when the page is drawn and
kept when it is drawn again after an error.  The view makes the thing by `make_once`.
"""

from __future__ import annotations

import hashlib
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta

from django import forms
from django.db import transaction
from django.http import HttpRequest
from django.utils import timezone

from boardshop.crew.access import signed_in
from boardshop.crew.models import SentForm
from boardshop.crew.tokens import new_token

ONCE = "once"
KNOWN_DAYS = 7
"""So long a form that was sent is known again."""
_NOT_TYPED = ("csrfmiddlewaretoken",)


@dataclass(frozen=True)
class Made[Thing]:
    """What a form made and where it is shown; `thing` is None when the form had been sent before."""

    thing: Thing | None
    address: str


def once_field() -> forms.CharField:
    """Hidden; each page that is drawn gets a token of its own."""
    return forms.CharField(required=False, widget=forms.HiddenInput, initial=new_token)


def make_once[Thing](
    request: HttpRequest, make: Callable[[], Thing], address_of: Callable[[Thing], str]
) -> Made[Thing]:
    """Make the thing, unless this person has sent this form, as it is typed, before.

    All in one transaction: what `make` raises leaves the token free for the corrected form; a second request
    at the same time waits for the first.  A form without a token makes its thing each time.
    """
    if not request.POST.get(ONCE):
        thing = make()
        return Made(thing, address_of(thing))
    with transaction.atomic():
        sent, is_first = SentForm.objects.get_or_create(person=signed_in(request), mark=mark_of_form(request))
        if not is_first:
            return Made(None, sent.made_address)
        thing = make()
        sent.made_address = address_of(thing)
        sent.save(update_fields=["made_address"])
    return Made(thing, sent.made_address)


def mark_of_form(request: HttpRequest) -> str:
    """Stands for the token and all that was typed: the same page with other words in it is another form."""
    typed = sorted((name, request.POST.getlist(name)) for name in request.POST if name not in _NOT_TYPED)
    return hashlib.sha256(repr((request.path, typed)).encode()).hexdigest()


def forget_sent_forms(now: datetime | None = None) -> int:
    """Delete what is older than KNOWN_DAYS; returns how many."""
    before = (now or timezone.now()) - timedelta(days=KNOWN_DAYS)
    return SentForm.objects.filter(at__lt=before).delete()[0]
