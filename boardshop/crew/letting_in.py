"""A way back in for somebody who forgot the password: a link that whoever runs the server hands out."""

from django.contrib.auth.tokens import default_token_generator
from django.urls import reverse

from boardshop.crew.audit import record_for_person
from boardshop.crew.models import AuditEntry, Person


def make_way_in(person: Person, *, reopen: bool = False) -> str:
    """The path of a page on which the person sets a new password, once.

    The link is signed and names the present password's hash, so it closes with the first use, with any
    sign-in and after `PASSWORD_RESET_TIMEOUT`.  `reopen` opens a closed account first.
    """
    if reopen and not person.is_active:
        person.is_active = True
        person.save(update_fields=["is_active"])
    record_for_person(person, AuditEntry.Kind.SECURITY_CHANGED, "a way in was made on the server")
    return reverse("let-in", args=[person.pk, default_token_generator.make_token(person)])


def find_way_in(pk: int, token: str) -> Person | None:
    """Whom the link lets in; None for one that is used, too old, or of nobody."""
    person = Person.objects.filter(pk=pk, is_active=True).first()
    return person if default_token_generator.check_token(person, token) else None
