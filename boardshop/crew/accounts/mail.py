"""The mail address of an account, and the link for a new password that goes there.

An address is kept only after a link that went to it was opened, so that no link for a new password ever goes
to somebody else's box.
"""

import logging
from concurrent.futures import ThreadPoolExecutor

from django.conf import settings
from django.core import signing
from django.core.mail import EmailMessage
from django.db.models import Q, QuerySet
from django.http import HttpRequest
from django.template.loader import render_to_string
from django.urls import reverse

from boardshop.crew.accounts.limits import pair_of
from boardshop.crew.audit import record_for_person, record_on_server
from boardshop.crew.letting_in import way_in_of
from boardshop.crew.models import AuditEntry, Person

log = logging.getLogger(__name__)
OUTGOING = ThreadPoolExecutor(1, thread_name_prefix="mail")
OPENS_S = 24 * 3600
"""How long the link that confirms an address opens."""
SALT = "boardshop.crew.accounts.mail"


def ask_to_confirm(person: Person, address: str) -> None:
    """Sends a link to the address; nothing changes before it is opened.

    Raises OSError when the mail server does not take it.
    """
    token = signing.dumps([person.pk, person.email, address], salt=SALT)
    link = settings.PUBLIC_URL.origin + reverse("confirm-mail", args=[token])
    _written("confirm_mail", address, {"person": person, "link": link}).send()


def find_address(person: Person, token: str) -> str | None:
    """The address that the link confirms; None for one that is too old, of somebody else, or overtaken."""
    try:
        pk, former, address = signing.loads(token, salt=SALT, max_age=OPENS_S)
    except signing.BadSignature:
        return None
    return address if (pk, former) == (person.pk, person.email) else None


def change_address(person: Person, address: str) -> None:
    """Blank removes it."""
    person.email = address
    person.save(update_fields=["email"])
    said = "mail address changed" if address else "mail address removed"
    record_for_person(person, AuditEntry.Kind.SECURITY_CHANGED, said)


def limits_of(request: HttpRequest, name_or_address: str) -> list[str]:
    """What a try counts for: each account that is meant, from this address; else what was typed."""
    names = [person.username for person in _meant(name_or_address)]
    return [pair_of(request, name) for name in names or [name_or_address]]


def send_ways_in(name_or_address: str) -> None:
    """Sends a link for a new password to whoever is meant and has a confirmed address.

    Tells nothing of whether there was anybody, neither by an answer nor by the time that a mail takes: mails
    leave after it, and a mail server that refuses one is told in the log.
    """
    for person in _meant(name_or_address):
        link = settings.PUBLIC_URL.origin + way_in_of(person)
        OUTGOING.submit(_try_to_send, _written("way_in", person.email, {"person": person, "link": link}))
        record_on_server(person, "a link for a new password was mailed")


def _meant(name_or_address: str) -> QuerySet[Person]:
    meant = Q(username__iexact=name_or_address) | Q(email__iexact=name_or_address)
    return Person.objects.filter(meant, is_active=True).exclude(email="").order_by("pk")


def _try_to_send(message: EmailMessage) -> None:
    try:
        message.send()
    except OSError:
        log.exception("The mail server refused a mail")


def _written(name: str, address: str, context: dict[str, object]) -> EmailMessage:
    context |= {"hours": OPENS_S // 3600, "origin": settings.PUBLIC_URL.origin}
    subject, _blank, text = render_to_string(f"crew/mails/{name}.txt", context).partition("\n\n")
    return EmailMessage(" ".join(subject.split()), text, settings.DEFAULT_FROM_EMAIL, [address])
