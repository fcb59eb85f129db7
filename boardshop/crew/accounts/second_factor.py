"""The authenticator app and its recovery codes."""

from allauth.mfa.models import Authenticator
from django.core.cache import cache
from django.utils.crypto import salted_hmac

from boardshop.crew.models import Person

CODE_LIVES_S = 120
"""Longer than a code of RFC 6238 is taken: three steps of 30 s."""


def has_authenticator(person: Person) -> bool:
    return bool(Authenticator.objects.filter(user=person, type=Authenticator.Type.TOTP).exists())


def claim_code(person: Person, code: str) -> bool:
    """Whether nobody has used this code of the person yet; from now on it is used.

    RFC 6238, section 5.2: a code is taken once.  Two requests with one code cannot both claim it.
    """
    return bool(cache.add(_key(person, code), 1, CODE_LIVES_S))


def release_code(person: Person, code: str) -> None:
    """A code that did not fit is nobody's."""
    cache.delete(_key(person, code))


def drop_idle_codes(person: Person) -> None:
    """Recovery codes stand in for the authenticator app, and go when it goes."""
    if not has_authenticator(person):
        Authenticator.objects.filter(user=person, type=Authenticator.Type.RECOVERY_CODES).delete()


def remove_all(person: Person) -> int:
    """App, recovery codes and passkeys; returns how many there were."""
    return int(Authenticator.objects.filter(user=person).delete()[0])


def _key(person: Person, code: str) -> str:
    return f"used-code:{person.pk}:{salted_hmac('used code', code, algorithm='sha256').hexdigest()}"
