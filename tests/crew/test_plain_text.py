"""Invisible signs that turn text round, after Unicode's bidirectional classes (UAX #9)."""

import sys
import unicodedata

import pytest
from django.core.exceptions import ValidationError

from boardshop.boards.forms.boards import NamedForm
from boardshop.boards.forms.whole import BoardForm
from boardshop.crew.forms import ClientForm, SetUpForm, ShopSettingsForm
from boardshop.crew.plain_text import DIRECTION_SIGNS, refuse_direction_signs

# The explicit formatting characters of UAX #9, table 4, as the standard library's Unicode data has them.
EXPLICIT = {"LRE", "RLE", "LRO", "RLO", "PDF", "LRI", "RLI", "FSI", "PDI"}
MARKS = {"LEFT-TO-RIGHT MARK", "RIGHT-TO-LEFT MARK", "ARABIC LETTER MARK"}


def test_the_signs_are_those_of_the_standard() -> None:
    every = map(chr, range(sys.maxunicode + 1))
    expected = {
        sign
        for sign in every
        if unicodedata.bidirectional(sign) in EXPLICIT or unicodedata.name(sign, "") in MARKS
    }
    assert expected == DIRECTION_SIGNS


def test_the_refusal_names_the_sign_and_the_way_out() -> None:
    with pytest.raises(ValidationError, match=r"U\+202E.*type it by hand"):
        refuse_direction_signs("Em\u202eber")


@pytest.mark.parametrize("name", ["Ember", "Ødegård", "עומר", "اوتار", "テープ", "a\u200db"])
def test_names_in_any_script_are_plain(name: str) -> None:
    refuse_direction_signs(name)


@pytest.mark.django_db
@pytest.mark.parametrize(
    ("form", "field"),
    [(ClientForm, "name"), (ShopSettingsForm, "name"), (SetUpForm, "shop_name")],
)
def test_the_forms_of_the_shop_refuse_them(form: type, field: str) -> None:
    assert "U+2066" in str(form({field: "Em\u2066ber"}).errors[field])


@pytest.mark.parametrize("form", [NamedForm, BoardForm])
def test_the_forms_of_a_board_refuse_them(form: type) -> None:
    assert refuse_direction_signs in form.base_fields["name"].validators
