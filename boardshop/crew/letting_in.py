"""A way back in for somebody who forgot the password: a link that whoever runs the server hands out."""

from django.contrib.auth.tokens import default_token_generator
from django.urls import reverse

from boardshop.crew.accounts import second_factor
from boardshop.crew.audit import record_for_person
from boardshop.crew.models import AuditEntry, Person


def way_in_of(person: Person) -> str:
    """The path of a page on which the person sets a new password, once.

    The link is signed and names the present password's hash, so it closes with the first use, with any
    sign-in and after `PASSWORD_RESET_TIMEOUT`.
    """
    return reverse("let-in", args=[person.pk, default_token_generator.make_token(person)])


def make_way_in(person: Person, *, reopen: bool = False, without_second_factor: bool = False) -> str:
    """The path that lets the person in, for whoever runs the server to hand out.

    `reopen` opens a closed account first; `without_second_factor` takes away the authenticator app, its
    recovery codes and the passkeys, for somebody who lost what holds them.
    """
    if reopen and not person.is_active:
        person.is_active = True
        person.save(update_fields=["is_active"])
    if without_second_factor and second_factor.remove_all(person):
        record_for_person(person, AuditEntry.Kind.SECURITY_CHANGED, "second factor removed on the server")
    record_for_person(person, AuditEntry.Kind.SECURITY_CHANGED, "a way in was made on the server")
    return way_in_of(person)


def find_way_in(pk: int, token: str) -> Person | None:
    """Whom the link lets in; None for one that is used, too old, or of nobody."""
    person = Person.objects.filter(pk=pk, is_active=True).first()
    return person if default_token_generator.check_token(person, token) else None
