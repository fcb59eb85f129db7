"""A new account, however it comes about: its name for signing in is nobody else's, whatever its case."""

from boardshop.crew.constraints import Refusals, refusals_by
from boardshop.crew.errors import Refusal
from boardshop.crew.models import Person


class UsernameTaken(Refusal):
    """Somebody already signs in with the name %(username)s, capitals or not; choose another, or sign in if it
    is yours.
    """

    field = "username"


PERSON_REFUSALS: Refusals = {
    "crew_person_username_key": UsernameTaken,
    "person_name_once_whatever_its_case": UsernameTaken,
}


def make_person(username: str, *, password: str) -> Person:
    """Raises UsernameTaken."""
    name = Person.normalize_username(username)
    if Person.objects.filter(username__iexact=name).exists():
        raise UsernameTaken(username=name)
    with refusals_by(PERSON_REFUSALS, username=name):
        return Person.objects.create_user(name, password=password)
