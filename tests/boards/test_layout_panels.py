"""The layout page's rows in figures and its panel on fastening: every number is core's."""

from typing import Any

import pytest
from django.urls import reverse

from boardshop.boards.history.state import digest_of, read_state
from boardshop.boards.pages.room import tell_rows
from boardshop.core.fastening import list_fastenings
from tests.board_factories import make_board, plan_of
from tests.core import builders as b
from tests.factories import Cast

pytestmark = pytest.mark.django_db


def text_of(cast: Cast, *pedals: Any, **parts: Any) -> str:
    board = make_board(cast.shop, list(pedals), **parts)
    return " ".join(cast.browser("viewer").get(reverse("layout", args=[board.code])).text.split())


def three(gap: int, **frame: Any) -> list[Any]:
    return [b.pedal(f"P{n}", at=(16 + n * (73 + gap), 0), **frame) for n in range(3)]


@pytest.mark.parametrize(
    ("unit", "width", "said"),
    [
        ("mm", 320, "311 of 320 mm, 9 spare"),
        ("mm", 311, "311 of 311 mm, 0 spare"),
        ("mm", 300, "<strong>311 mm if all stood in one line, 11 more than the frame’s 300</strong>"),
        ("cm", 320, "31.1 of 32 cm, 0.9 spare"),
    ],
)
def test_a_row_says_its_least_width(cast: Cast, unit: str, width: int, said: str) -> None:
    """Three of 73 with flat plugs of 14: 16 + 3 x 73 + 2 x 30 + 16."""
    cast.shop.length_unit = unit
    cast.shop.save()
    text = text_of(cast, *three(30), frame=b.frame(width, 400))
    assert f'<dt>Front row</dt><dd class="figures">{said}</dd>' in text


def test_what_a_row_lacks_is_named(cast: Cast) -> None:
    links = [b.link("W1", "P1.OUT", "P0.IN", plug_from=None)]
    assert "not known for want of P1.OUT" in text_of(cast, *three(30), links=links)


def test_rows_are_named_from_the_front() -> None:
    stack = [b.pedal(f"P{n}", at=(20, 140 * n), depth=100) for n in range(4)]
    for count, names in (
        (1, ["Front row"]),
        (2, ["Front row", "Rear row"]),
        (3, ["Front row", "Middle row", "Rear row"]),
        (4, ["Front row", "Middle row 1", "Middle row 2", "Rear row"]),
    ):
        assert [row.label for row in tell_rows(b.board(*stack[:count]), "mm")] == names


def test_each_pedals_hold_is_cores(cast: Cast) -> None:
    pedals = [
        b.pedal("P1", weight=250, screw_length=8),
        b.pedal("P2", "wah", weight=1650, width=100, depth=250, treadle=True),
        b.pedal("P3", weight=3000),
    ]
    board = make_board(cast.shop, pedals, frame=b.frame(plate_thickness=3))
    text = cast.browser("viewer").get(reverse("layout", args=[board.code])).text
    holds = list_fastenings(plan_of(board))
    assert [hold.cover_cm2 for hold in holds[:2]] == [47, 162]
    assert all(f">{hold.cover_cm2} cm²</td>" in text for hold in holds[:2])
    assert f"{holds[2].needed_cm2} cm² on {holds[2].base_cm2}: too heavy" in text
    assert "2 pedals want a mechanical stop" in text
    assert "1 is too heavy for its base" in text
    assert ">11 mm</td>" in text


def test_what_is_not_recorded_says_so(cast: Cast) -> None:
    text = text_of(cast, b.pedal("P1", weight=None))
    assert "1 is not weighed." in text
    assert "not weighed</td>" in text
    assert ">not recorded</td>" in text
    assert "No pedal is known to want a mechanical stop." in text


def test_an_empty_board_has_nothing_to_hold(cast: Cast) -> None:
    assert "No pedal is on the board yet." in text_of(cast, links=())


def test_it_says_to_degrease_and_to_wait(cast: Cast) -> None:
    text = text_of(cast, b.pedal("P1"))
    assert "Degrease" in text
    assert "24 h" in text


def test_an_older_mark_of_a_board_stays_right_until_its_plate_is_recorded(cast: Cast) -> None:
    state = read_state(make_board(cast.shop, 1))
    older = {**state, "boards_frame": {k: dict(v) for k, v in state["boards_frame"].items()}}
    for columns in older["boards_frame"].values():
        del columns["plate_thickness"], columns["members"]
    assert digest_of(older) == digest_of(state)
    for columns in older["boards_frame"].values():
        columns["plate_thickness"] = 3
    assert digest_of(older) != digest_of(state)
