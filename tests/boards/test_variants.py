"""Variants: named ways to build one board, one of them the working copy."""

from typing import Any

import pytest
from django.test import Client as Browser

from boardshop.boards.access import get_board_for
from boardshop.boards.errors import VariantIsCurrent, VariantNameTaken
from boardshop.boards.history.moment import plan_of_state
from boardshop.boards.history.state import read_state
from boardshop.boards.models import Board, Placement, Variant
from boardshop.boards.services.history import undo_change
from boardshop.boards.services.order import wire_line
from boardshop.boards.services.variants import add_variant, remove_variant, use_variant
from boardshop.core.boardfile import dump_plan
from tests.board_factories import make_board, plan_of
from tests.factories import Cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def board(cast: Cast) -> Board:
    return get_board_for(cast.editor, make_board(cast.shop, 3).code)


def number(board: Board) -> int:
    return Board.objects.get(pk=board.pk).edit_number


def order(board: Board) -> list[str]:
    return [link.source for link in sorted(plan_of(board).links, key=lambda link: link.ref)]


def turned(board: Board) -> tuple[Variant, Variant]:
    """A second variant in which P3 stands first; it is current."""
    second = add_variant(board, number(board), "P3 first")
    wire_line(board, number(board), 0, ["P3", "P1", "P2"])
    return Variant.objects.exclude(pk=second.pk).get(), second


def test_the_plan_of_rows_kept_aside_is_the_plan_they_had(board: Board) -> None:
    assert dump_plan(plan_of_state(board, read_state(board))) == dump_plan(plan_of(board))


def test_a_variant_begins_as_the_working_copy_and_leaves_that_beside_it(board: Board) -> None:
    before = dump_plan(plan_of(board))
    first, second = turned(board)
    assert dump_plan(plan_of(board)) != before
    assert dump_plan(plan_of_state(board, first.state)) == before
    assert (first.name, second.name, Variant.objects.get(pk=second.pk).state) == (
        "As it was",
        "P3 first",
        None,
    )


def test_going_back_and_forth_loses_nothing(board: Board) -> None:
    one = read_state(board)
    first, second = turned(board)
    other = read_state(board)
    use_variant(board, number(board), first)
    assert read_state(board) == one
    use_variant(board, number(board), Variant.objects.get(pk=second.pk))
    assert read_state(board) == other


def test_undo_stays_within_the_variant(board: Board) -> None:
    first, second = turned(board)
    wired = order(board)
    use_variant(board, number(board), first)
    with pytest.raises(Exception, match="no change of yours"):
        undo_change(board, number(board))
    use_variant(board, number(board), Variant.objects.get(pk=second.pk))
    assert order(board) == wired
    undo_change(board, number(board))
    assert order(board) != wired


def test_the_current_one_is_neither_chosen_nor_removed(board: Board) -> None:
    _first, second = turned(board)
    current = Variant.objects.get(pk=second.pk)
    for service in (use_variant, remove_variant):
        with pytest.raises(VariantIsCurrent):
            service(board, number(board), current)


def test_two_of_one_name_are_refused(board: Board) -> None:
    turned(board)
    with pytest.raises(VariantNameTaken):
        add_variant(board, number(board), "p3 FIRST")
    assert Variant.objects.count() == 2


class TestThePage:
    @pytest.fixture
    def browser(self, cast: Cast) -> Browser:
        return cast.browser("editor")

    def post(self, browser: Browser, board: Board, address: str, **typed: Any) -> Any:
        return browser.post(f"/boards/{board.code}/variants/{address}", {"edit": number(board), **typed})

    def test_add_use_rename_and_remove(self, browser: Browser, board: Board) -> None:
        assert "No variants yet" in browser.get(f"/boards/{board.code}/variants").text
        assert self.post(browser, board, "add", name="Wah last").status_code == 303
        first = Variant.objects.get(name="As it was")
        assert self.post(browser, board, f"{first.pk}/rename", name="Club").status_code == 303
        assert self.post(browser, board, f"{first.pk}/use").status_code == 303
        second = Variant.objects.get(name="Wah last")
        assert self.post(browser, board, f"{second.pk}/remove").status_code == 303
        assert list(Variant.objects.values_list("name", flat=True)) == ["Club"]

    def test_it_shows_what_each_comes_to(self, browser: Browser, board: Board) -> None:
        turned(board)
        page = browser.get(f"/boards/{board.code}/variants").text
        assert "current: this is the working copy" in page
        assert "Cable to cut" in page
        assert page.count('class="sheet-strip"') == 2

    def test_a_name_is_asked_for(self, browser: Browser, board: Board) -> None:
        answer = self.post(browser, board, "add", name=" ")
        assert (answer.status_code, Variant.objects.count()) == (422, 0)

    def test_a_variant_of_another_board_is_not_found(
        self, cast: Cast, browser: Browser, board: Board
    ) -> None:
        first, _second = turned(board)
        other = make_board(cast.shop, 2, name="Other")
        for verb in ("use", "rename", "remove"):
            assert self.post(browser, other, f"{first.pk}/{verb}", name="x").status_code == 404

    @pytest.mark.parametrize("name", ["use-variant", "rename-variant", "remove-variant", "add-variant"])
    def test_a_viewer_changes_none(self, cast: Cast, board: Board, name: str) -> None:
        first, _second = turned(board)
        verb = name.partition("-")[0]
        address = "add" if verb == "add" else f"{first.pk}/{verb}"
        assert self.post(cast.browser("viewer"), board, address, name="x").status_code == 403
        assert Variant.objects.count() == 2


def test_two_states_are_compared_in_sentences_figures_and_on_the_drawing(cast: Cast, board: Board) -> None:
    first, _second = turned(board)
    Placement.objects.filter(board=board, ref="P2").update(x=500)
    page = cast.browser("viewer").get(
        f"/boards/{board.code}/compare", {"one": f"v{first.pk}", "other": "working"}
    )
    assert "Pedal 3 (P3) stands first in its line now." in page.text
    assert "Pedal 2 (P2) moved from" in page.text
    assert "<svg" in page.text
    assert "≠" in page.text


@pytest.mark.parametrize("name", ["van Aken", "eBow set"])
def test_the_name_of_a_variant_stands_as_it_was_typed(cast: Cast, board: Board, name: str) -> None:
    first, _second = turned(board)
    Variant.objects.filter(pk=first.pk).update(name=name)
    page = cast.browser("viewer").get(f"/boards/{board.code}/variants").text
    assert f'<th scope="col">{name}</th>' in page


def test_a_word_of_the_address_that_means_nothing_is_said(cast: Cast, board: Board) -> None:
    first, _second = turned(board)
    browser, address = cast.browser("viewer"), f"/boards/{board.code}/compare"
    assert "means nothing here" not in browser.get(address, {"one": f"v{first.pk}"}).text
    page = browser.get(address, {"from": "r1", "<to>": "r2", "one": f"v{first.pk}"}).text
    assert "The address also says &lt;to&gt;, from, which means nothing here" in page
    assert f"Shown is what lies between variant {first.name} and working copy" in page


@pytest.mark.parametrize("key", ["r7", "v999", "x", "working2", "r", "v"])
def test_a_side_that_is_none_is_not_found(cast: Cast, board: Board, key: str) -> None:
    assert cast.browser("viewer").get(f"/boards/{board.code}/compare?one={key}").status_code == 404
