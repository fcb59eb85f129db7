"""Secrets of second factors: unreadable in the database and in every copy of it."""

from base64 import urlsafe_b64encode

from cryptography.fernet import Fernet, InvalidToken, MultiFernet
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.kdf.hkdf import HKDF
from django.conf import settings

from boardshop.crew.errors import Refusal


class SecretUnreadable(Refusal):
    """The second factor of this account was kept under another secret key than the server has now, so no
    code can be checked. Whoever runs the server opens the way with
    “manage.py let_in NAME --without-second-factor”.
    """


def encrypt(text: str) -> str:
    return _box().encrypt(text.encode()).decode("ascii")


def decrypt(kept: str) -> str:
    """Raises SecretUnreadable: an empty secret would let in whoever guesses that it is empty."""
    try:
        return _box().decrypt(kept.encode("ascii")).decode()
    except InvalidToken as error:
        raise SecretUnreadable from error


def _box() -> MultiFernet:
    """Encrypts under the present key and still reads what former ones encrypted."""
    secrets = [settings.SECRET_KEY, *settings.SECRET_KEY_FALLBACKS]
    return MultiFernet(_key_from(str(secret)) for secret in secrets)


def _key_from(secret: str) -> Fernet:
    """RFC 5869: one purpose, one key, so that a token signed elsewhere tells nothing of this one."""
    derived = HKDF(SHA256(), length=32, salt=None, info=b"boardshop second factor").derive(secret.encode())
    return Fernet(urlsafe_b64encode(derived))
