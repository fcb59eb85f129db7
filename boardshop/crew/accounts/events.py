"""What concerns the security of an account, written into the audit of the person's shops."""

from typing import Any

from allauth.account.internal.flows.login import get_authentication_records
from allauth.account.signals import user_logged_in
from allauth.mfa import signals
from allauth.mfa.models import Authenticator
from django.dispatch import receiver
from django.http import HttpRequest
from django.utils.translation import gettext as _

from boardshop.crew.accounts.devices import note_device
from boardshop.crew.accounts.limits import address_of
from boardshop.crew.accounts.second_factor import has_authenticator
from boardshop.crew.audit import record_for_person
from boardshop.crew.models import AuditEntry, Person

TYPES = Authenticator.Type


@receiver(user_logged_in)
def note_sign_in(request: HttpRequest, user: Person, **_more: Any) -> None:
    note_device(request)
    where = _("from %(address)s") % {"address": address_of(request)}
    said = ", ".join(filter(None, [where, _how(request, user)]))
    record_for_person(user, AuditEntry.Kind.SIGN_IN, said)


def _how(request: HttpRequest, person: Person) -> str:
    records = get_authentication_records(request, person)
    words = {
        TYPES.WEBAUTHN: _("by a passkey"),
        TYPES.TOTP: _("with a code"),
        TYPES.RECOVERY_CODES: _("with a recovery code"),
    }
    return words.get(records[-1].get("type", ""), "") if records else ""


@receiver(signals.authenticator_added)
def note_added(user: Person, authenticator: Authenticator, **_more: Any) -> None:
    # The library makes recovery codes with every passkey, too; without an app they are dropped at once.
    if authenticator.type == TYPES.RECOVERY_CODES and not has_authenticator(user):
        return
    _note(user, authenticator, _("%(what)s added"))


@receiver(signals.authenticator_removed)
def note_removed(user: Person, authenticator: Authenticator, **_more: Any) -> None:
    _note(user, authenticator, _("%(what)s removed"))


@receiver(signals.authenticator_reset)
def note_renewed(user: Person, authenticator: Authenticator, **_more: Any) -> None:
    _note(user, authenticator, _("%(what)s made anew"))


@receiver(signals.authentication_failed)
def note_wrong_code(request: HttpRequest, user: Person, **_more: Any) -> None:
    said = _("wrong code, from %(address)s") % {"address": address_of(request)}
    record_for_person(user, AuditEntry.Kind.SIGN_IN_REFUSED, said)


def _note(person: Person, authenticator: Authenticator, words: str) -> None:
    what = {
        TYPES.TOTP: _("authenticator app"),
        TYPES.RECOVERY_CODES: _("recovery codes"),
        TYPES.WEBAUTHN: _("passkey"),
    }[authenticator.type]
    record_for_person(person, AuditEntry.Kind.SECURITY_CHANGED, words % {"what": what})
