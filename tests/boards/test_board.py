import re

from django.template.loader import render_to_string

from boardshop.boards.models import Board
from boardshop.boards.sheet import BoardSheet
from boardshop.core.report import compute_report
from boardshop.crew.models import Membership
from tests.board_factories import make_board, plan_of
from tests.boards.page_contract import PageContract
from tests.core import builders as b
from tests.factories import Cast, make_shop


class TestBoard(PageContract):
    name = "board"

    def test_it_shows_what_the_core_computes(self, cast: Cast, board: Board) -> None:
        report, text = compute_report(plan_of(board)), cast.browser("viewer").get(self.url(board)).text
        assert f"{report.cables.cut_total_mm} mm" in text
        assert f"{report.power.supplies[0].load_ma} mA" in text
        assert all(f"P{n}" in text for n in (1, 2))

    def test_the_counts_are_those_of_the_report(self, cast: Cast, board: Board) -> None:
        answer = cast.browser("viewer").get(self.url(board))
        found = compute_report(plan_of(board)).findings
        assert sum(answer.context["sheet"].counts.values()) == len(found)

    def test_what_repeats_is_one_entry_and_is_counted_in_full(self, cast: Cast) -> None:
        pedals = [b.draws(b.pedal(f"P{n}", name=f"Ember {n}"), rated=None) for n in range(1, 7)]
        feeds = [b.feed(f"S1.{n}", f"P{n}.DC") for n in range(1, 7)]
        board = make_board(cast.shop, pedals, feeds=feeds)
        answer = cast.browser("viewer").get(self.url(board))
        entries = [e for e in answer.context["findings"].pressing_entries if e.said.rule == "P27"]
        assert [len(entry.said.findings) for entry in entries] == [6]
        assert "6 times:" in answer.text
        assert "the draw of Ember 1 (P1.DC), Ember 2 (P2.DC)," in answer.text
        unknown = [f for f in answer.context["sheet"].findings if f.severity == "unknown"]
        assert answer.context["sheet"].counts["unknown"] == len(unknown) >= 6

    def test_lengths_are_shown_in_the_shops_unit(self, cast: Cast, board: Board) -> None:
        cast.shop.length_unit = "in"
        cast.shop.save()
        text = cast.browser("viewer").get(self.url(board)).text
        assert re.search(r"cuts?, [\d.]+ in\b", text)

    def test_a_total_says_how_many_cuts_it_does_not_know(self, cast: Cast, board: Board) -> None:
        sheet = BoardSheet(board)
        unknown = [run.ref for run in sheet.cables.runs if run.cut_mm is None]
        assert unknown
        assert f", {len(unknown)} not known" in cast.browser("viewer").get(self.url(board)).text

    def test_the_drawing_and_the_strip_bear_the_same_numbers(self, cast: Cast, board: Board) -> None:
        answer = cast.browser("viewer").get(self.url(board))
        stops = answer.context["strips"][0].stops
        assert [(stop.ref, stop.number) for stop in stops] == [("P1", 1), ("P2", 2)]
        assert answer.context["sheet"].numbers == {"P1": 1, "P2": 2}

    def test_the_title_block_leaves_out_who_drew_it_while_nobody_is_recorded(
        self, cast: Cast, board: Board
    ) -> None:
        text = cast.browser("viewer").get(self.url(board)).text
        assert "Drawn by" not in text
        drawn = render_to_string("pieces/title_block.html", {"title": "Main", "drawn_by": "Jo Reed"})
        assert "<dt>Drawn by</dt><dd>Jo Reed</dd>" in drawn

    def test_overlapping_pedals_are_marked_on_the_page(self, cast: Cast) -> None:
        pedals = [b.pedal("P1", at=(20, 10), name="One"), b.pedal("P2", at=(60, 10), name="Two")]
        text = cast.browser("viewer").get(self.url(make_board(cast.shop, pedals))).text
        assert "1 One and 2 Two overlap, which is hatched." in text
        assert 'class="d-overlap"' in text


def test_a_board_of_another_of_ones_shops_says_whose_it_is(cast: Cast) -> None:
    """The masthead names the shop in use, which a board opened by its label need not be of."""
    board, own = make_board(cast.shop), make_board(make_shop(name="Second bench"), name="Other board")
    Membership.objects.create(shop=own.shop, person=cast.editor, role="editor")
    browser = cast.browser("editor")
    assert "board of Second bench" in browser.get(f"/boards/{own.code}").text
    assert "board of" not in browser.get(f"/boards/{board.code}").text
