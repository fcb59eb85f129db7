"""A way back in for somebody who forgot the password: a link that whoever runs the server hands out."""

from django.contrib.auth.tokens import default_token_generator
from django.urls import reverse

from boardshop.crew.accounts import second_factor
from boardshop.crew.audit import record_on_server
from boardshop.crew.models import Person


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
        record_on_server(person, "the closed account was opened again")
    if without_second_factor and second_factor.remove_all(person):
        record_on_server(person, "the second factor was removed")
    record_on_server(person, "a way in was made")
    return way_in_of(person)


def find_way_in(pk: int, token: str, *, is_used: bool = False) -> Person | None:
    """Whom the link lets in; None for one that is used, too old, or of nobody.

    Where it is used now, inside a transaction, the person is locked until its end.
    """
    people = Person.objects.select_for_update() if is_used else Person.objects
    person = people.filter(pk=pk, is_active=True).first()
    return person if default_token_generator.check_token(person, token) else None
