"""Turning the authenticator app on."""

import re
from urllib.parse import unquote

import pytest
import zxingcpp
from allauth.mfa.models import Authenticator
from django.test import Client as Browser
from django.urls import reverse
from PIL import Image, ImageDraw

from boardshop.crew.models import AuditEntry
from tests.crew.accounts import code_now, confirmed, recovery_codes, sign_in, signed_in, with_app
from tests.factories import Cast

pytestmark = pytest.mark.django_db
URL = reverse("add-authenticator")


def secret_on(page: str) -> str:
    found = re.search(r'id="secret" class="figures" value="([A-Z2-7]{32})"', page)
    assert found
    return found[1]


def turned_on(browser: Browser) -> str:
    """The code with which it was turned on."""
    code = code_now(secret_on(browser.get(URL).text))
    assert browser.post(URL, {"code": code}).url == reverse("recovery-codes")
    return code


def test_the_password_is_asked_for_first(cast: Cast) -> None:
    answer = signed_in(cast.editor).get(URL)
    assert unquote(answer.url) == f"{reverse('confirm-password')}?next={URL}"
    assert reverse("mfa_activate_totp") == URL


def test_it_is_on_once_a_code_fits_and_codes_are_shown(cast: Cast) -> None:
    browser = confirmed(signed_in(cast.editor))
    turned_on(browser)
    page = browser.get(reverse("recovery-codes")).text
    codes = recovery_codes(cast.editor)
    assert len(codes) == 10
    assert all(f"{code[:4]} {code[4:]}" in page for code in codes)
    assert "On since" in browser.get(reverse("account")).text


def test_the_code_that_turned_it_on_does_not_sign_in(cast: Cast) -> None:
    code = turned_on(confirmed(signed_in(cast.editor)))
    thief = Browser()
    sign_in(thief, cast.editor)
    assert thief.post(reverse("type-code"), {"code": code}).status_code == 422


def test_a_wrong_code_keeps_the_secret_and_turns_nothing_on(cast: Cast) -> None:
    browser = confirmed(signed_in(cast.editor))
    secret = secret_on(browser.get(URL).text)
    answer = browser.post(URL, {"code": "000000"})
    assert (answer.status_code, secret_on(answer.text)) == (422, secret)
    assert not Authenticator.objects.exists()
    assert browser.post(URL, {"code": code_now(secret)}).status_code == 302


def test_a_second_tab_shows_the_same_secret(cast: Cast) -> None:
    browser = confirmed(signed_in(cast.editor))
    first, second = (secret_on(browser.get(URL).text) for _tab in range(2))
    assert first == second
    assert browser.post(URL, {"code": code_now(first)}).status_code == 302


def test_a_refusal_speaks_of_the_secret_not_of_recovery_codes(cast: Cast) -> None:
    browser = confirmed(signed_in(cast.editor))
    browser.get(URL)
    page = browser.post(URL, {"code": "000000"}).text
    assert "does not fit the secret" in page
    assert "use a recovery code" not in page


def test_the_square_holds_the_secret(cast: Cast) -> None:
    """Read back by an independent reader of ISO/IEC 18004, from the path as the page draws it."""
    page = confirmed(signed_in(cast.editor)).get(URL).text
    text = zxingcpp.read_barcodes(picture_of(page))[0].text
    assert text == f"otpauth://totp/{cast.editor.username}?secret={secret_on(page)}&issuer=Boardshop"


def picture_of(page: str) -> Image.Image:
    """The dark runs of the square: relative moves and horizontal lines, one module high."""
    path = re.search(r'<path class="qrline"[^>]* d="([^"]+)"|<path [^>]*stroke[^>]* d="([^"]+)"', page)
    assert path
    picture = Image.new("L", (600, 600), 255)
    draw = ImageDraw.Draw(picture)
    x = y = 0.0
    for sign, numbers in re.findall(r"([Mmh])([-\d. ]+)", path[1] or path[2]):
        values = [float(word) for word in numbers.split()]
        if sign == "M":
            x, y = values
        elif sign == "m":
            x, y = x + values[0], y + values[1]
        else:
            box = [x * 8, (y - 0.5) * 8, (x + values[0]) * 8 - 1, (y + 0.5) * 8 - 1]
            draw.rectangle(box, fill=0)
            x += values[0]
    return picture


def test_it_stands_in_the_audit(cast: Cast, django_capture_on_commit_callbacks) -> None:
    browser = confirmed(signed_in(cast.editor))
    with django_capture_on_commit_callbacks(execute=True):
        turned_on(browser)
    said = set(AuditEntry.objects.filter(kind="security-changed").values_list("about", flat=True))
    assert said == {"authenticator app added", "recovery codes added"}


def test_who_has_it_on_is_led_to_turning_it_off(cast: Cast) -> None:
    browser = confirmed(signed_in(cast.editor))
    with_app(cast.editor)
    assert browser.get(URL).url == reverse("remove-authenticator")
