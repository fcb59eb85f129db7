"""The second step of signing in."""

import pytest
from allauth.mfa.totp.internal.auth import format_hotp_value, hotp_value
from django.test import Client as Browser
from django.urls import reverse

from boardshop.crew.models import AuditEntry
from tests.crew.accounts import SECRET, code_at, code_now, recovery_codes, sign_in, with_app
from tests.factories import Cast

pytestmark = pytest.mark.django_db
URL = reverse("type-code")


def is_in(browser: Browser) -> bool:
    return browser.get(reverse("account")).status_code == 200


def test_the_library_finds_the_page_by_its_own_name() -> None:
    assert reverse("mfa_authenticate") == URL


@pytest.mark.parametrize(
    ("seconds", "last_six"),
    [(59, "287082"), (1111111109, "081804"), (1111111111, "050471"), (1234567890, "005924")],
)
def test_codes_are_those_of_the_standard(seconds: int, last_six: str) -> None:
    """RFC 6238, appendix B, SHA-1: of its eight figures the last six are the six-figure code."""
    assert code_at(seconds) == last_six
    assert format_hotp_value(hotp_value(SECRET, seconds // 30)) == last_six


def test_who_has_the_app_is_asked_for_a_code(cast: Cast, client: Browser) -> None:
    answer = sign_in(client, with_app(cast.editor), next="/clients")
    assert (answer.status_code, answer.url) == (302, URL)
    assert not is_in(client)
    assert client.get(URL).status_code == 200
    assert client.post(URL, {"code": code_now()}).url == "/clients"
    assert is_in(client)


def test_spaces_in_a_code_do_no_harm(cast: Cast, client: Browser) -> None:
    sign_in(client, with_app(cast.editor))
    code = code_now()
    assert client.post(URL, {"code": f" {code[:3]} {code[3:]} "}).status_code == 302


@pytest.mark.parametrize(("steps", "fits"), [(-2, False), (-1, True), (1, True), (2, False)])
def test_a_clock_may_be_one_step_off(cast: Cast, client: Browser, steps: int, fits: bool) -> None:
    """RFC 6238, section 5.2: at most one time step of delay."""
    sign_in(client, with_app(cast.editor))
    assert client.post(URL, {"code": code_now(steps=steps)}).status_code == (302 if fits else 422)


@pytest.mark.parametrize("code", ["000000", "", "abc", "1" * 300, "a\0b", "٣٤٥٦٧٨"])
def test_a_wrong_code_says_so_and_opens_nothing(cast: Cast, client: Browser, code: str) -> None:
    sign_in(client, with_app(cast.editor))
    answer = client.post(URL, {"code": code})
    assert answer.status_code == 422
    assert 'class="errorlist"' in answer.text
    assert not is_in(client)


def test_a_code_is_taken_once(cast: Cast, client: Browser) -> None:
    """RFC 6238, section 5.2: the verifier must not accept the second attempt of the OTP."""
    person, code = with_app(cast.editor), code_now()
    sign_in(client, person)
    assert client.post(URL, {"code": code}).status_code == 302
    second = Browser()
    sign_in(second, person)
    assert second.post(URL, {"code": code}).status_code == 422
    assert not is_in(second)


@pytest.mark.parametrize("written", ["{0}-{1}", "{0}.{1}", "{0} {1}", " {0}{1}_", "#{0}/{1}"])
def test_a_used_code_is_none_however_it_is_written(cast: Cast, client: Browser, written: str) -> None:
    person, code = with_app(cast.editor), code_now()
    sign_in(client, person)
    client.post(URL, {"code": code})
    second = Browser()
    sign_in(second, person)
    assert second.post(URL, {"code": written.format(code[:3], code[3:])}).status_code == 422


def test_somebody_elses_used_code_is_no_bar(cast: Cast) -> None:
    code = code_now()
    for person in (cast.editor, cast.viewer):
        browser = Browser()
        sign_in(browser, with_app(person))
        assert browser.post(URL, {"code": code}).status_code == 302


def test_a_recovery_code_opens_once_and_stands_in_the_audit(cast: Cast) -> None:
    person = with_app(cast.editor)
    code = recovery_codes(person)[3]
    statuses = []
    for _ in range(2):
        browser = Browser()
        sign_in(browser, person)
        statuses.append(browser.post(URL, {"code": code}).status_code)
    assert statuses == [302, 422]
    assert len(recovery_codes(person)) == 9
    assert AuditEntry.objects.filter(kind="sign-in", about__contains="with a recovery code").count() == 1


def test_a_wrong_code_stands_in_the_audit(cast: Cast, client: Browser) -> None:
    sign_in(client, with_app(cast.editor))
    client.post(URL, {"code": "000000"})
    assert AuditEntry.objects.get(kind="sign-in-refused").about == "wrong code, from 127.0.0.1"


def test_guessing_codes_is_held_up_for_that_account_alone(cast: Cast, client: Browser) -> None:
    sign_in(client, with_app(cast.editor))
    answers = [client.post(URL, {"code": f"{number:06}"}) for number in range(7)]
    assert [answer.status_code for answer in answers] == [422] * 6 + [429]
    assert answers[-1]["Retry-After"] == "600"
    assert client.post(URL, {"code": code_now()}).status_code == 429
    other = Browser()
    sign_in(other, with_app(cast.viewer))
    assert other.post(URL, {"code": code_now()}).status_code == 302


def test_starting_again_leads_back_to_the_name(cast: Cast, client: Browser) -> None:
    sign_in(client, with_app(cast.editor))
    assert client.get(reverse("sign-in")).url == URL
    assert client.get(reverse("sign-in"), {"afresh": "1"}).status_code == 200


def test_without_a_first_step_there_is_no_second(client: Browser) -> None:
    assert client.post(URL, {"code": "123456"}).url == reverse("sign-in")


def test_codes_kept_under_another_key_open_nothing(cast: Cast, client: Browser, settings) -> None:
    with_app(cast.editor)
    settings.SECRET_KEY = "another-secret-key-for-this-test"
    sign_in(client, cast.editor)
    answer = client.post(URL, {"code": code_now()})
    assert (answer.status_code, "--without-second-factor" in answer.text) == (409, True)
    assert not is_in(client)
