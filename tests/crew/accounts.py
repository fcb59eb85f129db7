"""What tests of accounts share: a code generator of its own, and the ways in."""

import base64
import hashlib
import hmac
import struct
import time

from allauth.mfa.models import Authenticator
from allauth.mfa.recovery_codes.internal.auth import RecoveryCodes
from allauth.mfa.totp.internal.auth import TOTP
from django.http import HttpResponse
from django.test import Client as Browser
from django.urls import reverse

from boardshop.crew.models import Person
from tests.factories import PASSWORD

SECRET = base64.b32encode(b"12345678901234567890").decode()
"""The secret of the worked examples of RFC 4226 and RFC 6238."""


def code_at(seconds: float, secret: str = SECRET) -> str:
    """The six figures of RFC 6238 (SHA-1, steps of 30 s), written after section 5.3 of RFC 4226."""
    counter = struct.pack(">Q", int(seconds) // 30)
    digest = hmac.new(base64.b32decode(secret), counter, hashlib.sha1).digest()
    at = digest[19] & 15
    return f"{(struct.unpack('>I', digest[at : at + 4])[0] & 0x7FFFFFFF) % 1_000_000:06}"


def code_now(secret: str = SECRET, steps: int = 0) -> str:
    return code_at(time.time() + 30 * steps, secret)


def with_app(person: Person) -> Person:
    """The person has the authenticator app on, with recovery codes."""
    TOTP.activate(person, SECRET)
    RecoveryCodes.activate(person)
    return person


def recovery_codes(person: Person) -> list[str]:
    kept = Authenticator.objects.get(user=person, type=Authenticator.Type.RECOVERY_CODES)
    codes: list[str] = kept.wrap().get_unused_codes()
    return codes


def sign_in(browser: Browser, person: Person, **values: str) -> HttpResponse:
    address = values.pop("address", "127.0.0.1")
    typed = {"login": person.username, "password": PASSWORD, "remember": "on"} | values
    return browser.post(reverse("sign-in"), typed, REMOTE_ADDR=address)


def signed_in(person: Person, **headers: str) -> Browser:
    """A browser that the person signed in with by the form, so that it is one of their devices."""
    browser = Browser(headers=headers)
    sign_in(browser, person)
    return browser


def confirmed(browser: Browser, password: str = PASSWORD) -> Browser:
    """The browser after the person showed once more who they are."""
    answer = browser.post(reverse("confirm-password"), {"password": password})
    assert answer.status_code == 302, answer.text
    return browser
