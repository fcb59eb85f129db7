"""What stands in the database of a second factor."""

import pytest
from allauth.mfa.models import Authenticator

from boardshop.crew.accounts.secrecy import SecretUnreadable, decrypt, encrypt
from tests.crew.accounts import SECRET, recovery_codes, with_app
from tests.factories import Cast


def test_what_was_encrypted_is_read_again() -> None:
    kept = encrypt(SECRET)
    assert SECRET not in kept
    assert decrypt(kept) == SECRET


def test_the_same_secret_is_never_written_the_same() -> None:
    assert encrypt(SECRET) != encrypt(SECRET)


def test_a_former_key_still_reads(settings) -> None:
    kept = encrypt(SECRET)
    settings.SECRET_KEY_FALLBACKS = [settings.SECRET_KEY]
    settings.SECRET_KEY = "a-new-key"
    assert decrypt(kept) == SECRET


@pytest.mark.parametrize("kept", ["", SECRET, "gAAAAA"])
def test_what_cannot_be_read_is_never_taken_for_empty(kept: str) -> None:
    with pytest.raises(SecretUnreadable):
        decrypt(kept)


@pytest.mark.django_db
def test_neither_the_secret_nor_a_recovery_code_stands_in_the_database(cast: Cast) -> None:
    person = with_app(cast.editor)
    kept = str(list(Authenticator.objects.values_list("data", flat=True)))
    assert SECRET not in kept
    assert [code for code in recovery_codes(person) if code in kept] == []
