"""A late form sent again undoes nobody's work: only what its sender changed is set against it."""

import json
import re
from html import unescape

import pytest
from django.test import Client as Browser
from django.urls import reverse

from boardshop.boards.models import Board, Link, Placement
from tests.board_factories import make_board
from tests.boards.contract import HTMX
from tests.factories import Cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def board(cast: Cast) -> Board:
    return make_board(cast.shop, 3)


def form_on(page: str, action: str) -> dict[str, str]:
    """What a browser would send for the form with this action, left as it stands on the page."""
    found = re.search(rf'<form[^>]*action="{re.escape(action)}"[^>]*>(.*?)</form>', page, re.S)
    assert found, action
    text = found[1]
    fields = {}
    for tag in re.findall(r"<input[^>]*>", text):
        given = dict(re.findall(r'([\w-]+)="([^"]*)"', tag))
        if given.get("type") != "checkbox" or " checked" in tag:
            fields[given["name"]] = unescape(given.get("value", "on" if "checkbox" in tag else ""))
    for name, body in re.findall(r'<textarea[^>]*name="(\w+)"[^>]*>(.*?)</textarea>', text, re.S):
        fields[name] = unescape(body).removeprefix("\r").removeprefix("\n")
    for name, body in re.findall(r'<select[^>]*name="(\w+)"[^>]*>(.*?)</select>', text, re.S):
        chosen = re.search(r'<option value="([^"]*)"[^>]* selected', body)
        first = re.search(r'<option value="([^"]*)"', body)
        fields[name] = unescape((chosen or first)[1]) if chosen or first else ""
    return fields


def again_on(page: str, action: str) -> dict[str, str]:
    notice = re.search(r'id="conflict".*?(<form.*?</form>)', page, re.S)
    assert notice
    return form_on(notice[1], action)


type Form = dict[str, str]


def two_pages(cast: Cast, address: str, action: str) -> tuple[Browser, Form, Browser, Form]:
    """An owner and an editor with the same page open, and the form as each sees it."""
    owner, editor = cast.browser("owner"), cast.browser("editor")
    return (
        owner,
        form_on(owner.get(address).text, action),
        editor,
        form_on(editor.get(address).text, action),
    )


def test_name_and_note_changed_by_two_people_both_stay(cast: Cast, board: Board) -> None:
    address = reverse("change-board", args=[board.code])
    owner, hers, editor, his = two_pages(cast, address, address)
    owner.post(address, hers | {"note": "fly case 3\r\nheavy"})
    late = editor.post(address, his | {"name": "Renamed"})
    assert late.status_code == 409
    again = again_on(late.text, address)
    assert (again["name"], again["note"]) == ("Renamed", "fly case 3\nheavy")
    assert editor.post(address, again).status_code == 303
    kept = Board.objects.get(pk=board.pk)
    assert (kept.name, kept.note.replace("\r\n", "\n")) == ("Renamed", "fly case 3\nheavy")


def test_the_fields_below_show_what_others_put_where_one_left_them_alone(cast: Cast, board: Board) -> None:
    address = reverse("change-board", args=[board.code])
    owner, hers, editor, his = two_pages(cast, address, address)
    owner.post(address, hers | {"note": "fly case 3"})
    page = editor.post(address, his | {"name": "Renamed"}).text
    below = form_on(page.partition('id="conflict"')[2].partition("</form>")[2], address)
    assert (below["name"], below["note"]) == ("Renamed", "fly case 3")
    assert json.loads(below["was"])["note"] == "fly case 3"
    assert json.loads(below["was"])["name"] == board.name
    assert editor.post(address, below).status_code == 303


def test_what_both_changed_stays_as_typed_and_tells_the_other(cast: Cast, board: Board) -> None:
    address = reverse("change-board", args=[board.code])
    owner, hers, editor, his = two_pages(cast, address, address)
    owner.post(address, hers | {"name": "Hers"})
    page = editor.post(address, his | {"name": "His"}).text
    assert "now: Hers" in page
    assert again_on(page, address)["name"] == "His"


def test_a_row_sent_by_htmx_is_set_against_the_others_as_well(cast: Cast, board: Board) -> None:
    address, layout = reverse("place-pedal", args=[board.code, "P1"]), reverse("layout", args=[board.code])
    owner, hers, editor, his = two_pages(cast, layout, address)
    owner.post(address, hers | {"x": "120"}, headers=HTMX)
    late = editor.post(address, his | {"y": "77"}, headers=HTMX)
    assert late.status_code == 409
    editor.post(address, again_on(late.text, address), headers=HTMX)
    kept = Placement.objects.get(board=board, ref="P1")
    assert (kept.x, kept.y) == (120, 77)


def test_a_third_change_meanwhile_is_kept_too(cast: Cast, board: Board) -> None:
    address = reverse("change-board", args=[board.code])
    owner, hers, editor, his = two_pages(cast, address, address)
    owner.post(address, hers | {"note": "one"})
    again = again_on(editor.post(address, his | {"name": "Renamed"}).text, address)
    owner.post(address, form_on(owner.get(address).text, address) | {"note": "two"})
    once_more = again_on(editor.post(address, again).text, address)
    assert (once_more["name"], once_more["note"]) == ("Renamed", "two")


@pytest.fixture
def to_change(board: Board) -> str:
    """Where the form of the first cable goes; it stands on the page of all cables and on one of its own."""
    link = Link.objects.filter(board=board).earliest("pk")
    return reverse("change-link", args=[board.code, link.ref])


def test_a_cable_keeps_the_others_length(cast: Cast, to_change: str) -> None:
    owner, hers, editor, his = two_pages(cast, to_change, to_change)
    owner.post(to_change, hers | {"length": "900"})
    again = again_on(editor.post(to_change, his | {"ref": "W77"}).text, to_change)
    assert (again["ref"], again["length"]) == ("W77", "900")


@pytest.mark.parametrize(
    ("others", "mine"),
    [
        ({"length": "900"}, {"route": "under"}),
        ({"made": "650"}, {"length": "700"}),
        ({"route": "under"}, {"length": "700"}),
    ],
)
def test_a_row_of_cables_keeps_what_others_put_there(
    cast: Cast, board: Board, to_change: str, others: dict[str, str], mine: dict[str, str]
) -> None:
    cables = reverse("cables", args=[board.code])
    owner, hers, editor, his = two_pages(cast, cables, to_change)
    owner.post(to_change, hers | others, headers=HTMX)
    late = editor.post(to_change, his | mine, headers=HTMX)
    assert late.status_code == 409
    again = again_on(late.text, to_change)
    assert {name: again[name] for name in others | mine} == others | mine
    assert editor.post(to_change, again, headers=HTMX).status_code == 200


def test_a_cable_that_was_led_elsewhere_meanwhile_is_not_led_back(
    cast: Cast, board: Board, to_change: str
) -> None:
    """Its ends go along unseen with a row of the page of all cables."""
    cables = reverse("cables", args=[board.code])
    last = Link.objects.filter(board=board).latest("pk")
    owner, hers, editor, his = two_pages(cast, cables, to_change)
    owner.post(reverse("remove-link", args=[board.code, last.ref]), {"edit": hers["edit"]}, headers=HTMX)
    number = Board.objects.get(pk=board.pk).edit_number
    led = owner.post(to_change, hers | {"edit": number, "target": "A1.IN"}, headers=HTMX)
    assert led.status_code == 200
    again = again_on(editor.post(to_change, his | {"length": "700"}, headers=HTMX).text, to_change)
    assert (again["target"], again["length"]) == ("A1.IN", "700")


@pytest.mark.parametrize("was", ["", "{", "[]", "[" * 100_000, '{"note": 5}'])
def test_a_form_that_tells_no_base_counts_as_typed(cast: Cast, board: Board, was: str) -> None:
    address = reverse("change-board", args=[board.code])
    owner, hers, editor, his = two_pages(cast, address, address)
    owner.post(address, hers | {"note": "fly case 3"})
    late = editor.post(address, his | {"name": "Renamed", "was": was})
    assert late.status_code == 409
    assert again_on(late.text, address)["note"] == his["note"]


def test_a_late_form_about_what_is_gone_offers_nothing_that_fails(cast: Cast, board: Board) -> None:
    address = reverse("change-pedal", args=[board.code, "P3"])
    owner, _hers, editor, his = two_pages(cast, address, address)
    owner.post(reverse("remove-pedal", args=[board.code, "P3"]), {"edit": his["edit"]})
    late = editor.post(address, his | {"ref": "Q9"})
    assert late.status_code == 409
    assert "not on the board any more" in late.text
    assert "<dt>ref</dt><dd>Q9</dd>" in late.text
    assert "Make my change again" not in late.text


def test_a_late_form_with_a_fault_is_not_offered_as_it_is(cast: Cast, board: Board) -> None:
    address = reverse("change-board", args=[board.code])
    owner, hers, editor, his = two_pages(cast, address, address)
    owner.post(address, hers | {"note": "fly case 3"})
    late = editor.post(address, his | {"name": ""})
    assert late.status_code == 409
    assert "Make my change again" not in late.text
