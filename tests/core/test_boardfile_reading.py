"""What is no JSON object in UTF-8, and what JSON allows but a board file does not; RFC 8259 and RFC 6901."""

import json

import pytest

from boardshop.core.boardfile import RefusedBoardFile, load_plan_text
from tests.core.documents import small_document


def refuse_text(text):
    with pytest.raises(RefusedBoardFile) as refusal:
        load_plan_text(text)
    (fault,) = refusal.value.faults
    return fault


def test_repeated_keys_are_refused():
    frame = '"frame": {"width": 5, "width": 6, "depth": 7}'
    text = '{"format": "boardshop-board", "version": 1, "version": 1, ' + frame + "}"
    with pytest.raises(RefusedBoardFile) as refusal:
        load_plan_text(text)
    assert str(refusal.value) == (
        "/version: is given more than once in one object\n/frame/width: is given more than once in one object"
    )


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (b"", "is no JSON: expecting value at line 1, column 1"),
        (b'{"format": ', "is no JSON"),
        (b'{"format": 1,}', "is no JSON"),
        (b"{'format': 1}", "is no JSON"),
        (b'{"name": "caf\xe9"}', "is no text in UTF-8: byte 13 cannot be read"),
        ('{"name": 1}'.encode("utf-16"), "is no text in UTF-8"),
        (b'{"name": "\xed\xa0\x80"}', "is no text in UTF-8"),
        (b"[" * 100_000, "is nested too deeply"),
        (b'{"a":' * 100_000, "is nested too deeply"),
        (b'{"name": "a\nb"}', "is no JSON: invalid control character"),
    ],
)
def test_what_is_no_json_in_utf8_is_refused(text, told):
    fault = refuse_text(text)
    assert fault.pointer == ""
    assert told in str(fault)
    assert "\n" not in str(fault)


@pytest.mark.parametrize("text", ["[]", "null", "7", '"board"', "NaN", "true"])
def test_what_is_no_object_is_refused(text):
    assert "must be a JSON object" in refuse_text(text).message


@pytest.mark.parametrize("number", ["NaN", "Infinity", "-Infinity", "1e999", "-1e999"])
def test_numbers_that_are_not_finite_are_refused(number):
    text = json.dumps(small_document()).replace("600", number)
    assert str(refuse_text(text)) == "/frame/width: must be a finite number"


@pytest.mark.parametrize("digits", ["1" + "0" * 9 + "1", "9" * 30, "9" * 10_000, "-" + "9" * 10_000])
def test_huge_whole_numbers_are_refused(digits):
    text = json.dumps(small_document()).replace("600", digits)
    assert str(refuse_text(text)) == "/frame/width: is beyond 1,000,000,000"


def test_a_byte_order_mark_is_ignored_as_rfc_8259_allows():
    assert load_plan_text(b"\xef\xbb\xbf" + json.dumps(small_document()).encode()).frame.width == 600


def test_a_fault_is_one_line_whatever_the_key():
    fault = refuse_text(json.dumps(small_document() | {"a\nb\ud800": 1}))
    assert str(fault) == "/a\\nb\\ud800: is an unknown key"


def test_pointers_are_escaped_after_rfc_6901():
    # RFC 6901 section 3: ~ is written ~0 and / is written ~1.
    assert refuse_text(json.dumps(small_document() | {"m~n/o": 1})).pointer == "/m~0n~1o"
