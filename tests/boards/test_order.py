import pytest

from boardshop.boards.models import Board
from boardshop.core.plan import Scene
from tests.board_factories import make_board
from tests.boards.page_contract import PageContract
from tests.core import builders as b
from tests.core.order_wiring import LOOP_AMP, links, with_jacks
from tests.factories import Cast


class TestOrder(PageContract):
    name = "order"

    def test_the_rows_stand_in_the_order_of_the_signal(self, cast: Cast, board: Board) -> None:
        board.items.filter(link__isnull=False).delete()
        url = f"/boards/{board.code}/lines/wire"
        cast.browser("editor").post(url, {"edit": 0, "line": "0", "refs": "P2 P1"})
        rows = cast.browser("viewer").get(self.url(board)).context["rows"]
        assert [(row.pedal.ref, row.number) for row in rows] == [("P2", 1), ("P1", 2)]

    def test_what_would_move_is_marked_and_can_be_moved_alone_or_all_at_once(self, cast: Cast) -> None:
        kinds = ("reverb", "delay", "overdrive")
        board = make_board(cast.shop, [b.pedal(f"P{n}", kind) for n, kind in enumerate(kinds, 1)])
        answer = cast.browser("editor").get(self.url(board))
        (line,) = answer.context["schools"][0].lines
        assert [(move.ref, move.position, move.remade) for move in line.first.moves] == [
            ("P2", 1, 3),
            ("P3", 1, 3),
        ]
        assert (line.first.refs, line.first.remade, line.joins, line.answers) == ("P3 P2 P1", 4, 4, 3)
        assert answer.text.count("would move") == 2
        assert 'name="refs" value="P3 P2 P1"' in answer.text

    @pytest.mark.parametrize("role", ["editor", "viewer"])
    def test_each_pedal_that_would_move_leads_to_why(self, cast: Cast, role: str) -> None:
        """A tuner behind a compressor: no rule speaks of it, only the usual order."""
        board = make_board(cast.shop, [b.pedal("P1", "compressor"), b.pedal("P2", "tuner")])
        answer = cast.browser(role).get(self.url(board))
        (why,) = answer.context["schools"][0].lines[0].first.moves
        assert [row.why for row in answer.context["rows"]] == ["", why.id]
        assert f'href="#{why.id}"' in answer.text
        assert f'id="{why.id}"' in answer.text
        assert "tuner in front of compressor, since a tuner reads" in answer.text

    def test_both_schools_say_what_they_would_cost(self, cast: Cast) -> None:
        """Wah into fuzz: the common order has it the other way round, the other school as it stands."""
        board = make_board(cast.shop, [b.pedal("P1", "wah"), b.pedal("P2", "fuzz")])
        answer = cast.browser("viewer").get(self.url(board))
        told = [(one.name, one.is_followed, one.moves, one.remade) for one in answer.context["schools"]]
        assert told == [("common", True, 1, 3), ("dynamics-first", False, 0, 0)]
        assert "Judge this board" not in answer.text

    def test_equally_good_choices_are_told(self, cast: Cast) -> None:
        board = make_board(cast.shop, [b.pedal("P1", "delay"), b.pedal("P2", "wah")])
        answer = cast.browser("editor").get(self.url(board))
        (line,) = answer.context["schools"][0].lines
        assert [[move.ref for move in one.moves] for one in (line.first, *line.others)] == [["P2"], ["P1"]]
        assert "2 choices are equally good" in answer.text

    def test_what_is_found_stands_between_the_two_that_it_is_about(self, cast: Cast) -> None:
        pedals = [b.pedal("P1", "delay"), b.pedal("P2", "chorus"), b.pedal("P3", "overdrive")]
        answer = cast.browser("viewer").get(self.url(make_board(cast.shop, pedals)))
        rows = {row.pedal.ref: row for row in answer.context["rows"]}
        assert rows["P1"].before is None
        assert [one.rule for one in rows["P2"].before.pressing] == ["R21"]
        assert [one.rule for one in rows["P3"].before.pressing] == ["R18", "R19"]
        text = answer.text
        assert text.index('id="play-P2"') < text.index("R19") < text.index('id="play-P3"')
        assert answer.context["placed"] == 3
        (strip,) = answer.context["strips"]
        assert [stop.found for stop in strip.stops] == ["", "caution", "caution"]

    def test_what_is_about_a_pedal_and_the_amp_stands_behind_the_pedal(self, cast: Cast) -> None:
        pedals = [b.pedal("P1", "delay"), b.pedal("P2", "reverb")]
        answer = cast.browser("viewer").get(self.url(make_board(cast.shop, pedals, amps=(LOOP_AMP,))))
        rows = answer.context["rows"]
        assert [[one.rule for one in row.behind.pressing] for row in rows] == [["R35"], ["R35"]]

    def test_what_is_about_no_row_stands_beside_the_list(self, cast: Cast) -> None:
        board = make_board(cast.shop, 1, links=b.chain("G1", "P1"))
        found = cast.browser("viewer").get(self.url(board)).context["findings"]
        assert [one.rule for one in found.pressing] == ["O04"]

    def test_a_finding_says_in_which_scenes_it_is_heard(self, cast: Cast) -> None:
        pedals = [b.pedal("P1", "delay"), b.pedal("P2", "overdrive")]
        scenes = (Scene("clean", ("P1",)), Scene("lead", ("P1", "P2")))
        text = cast.browser("viewer").get(self.url(make_board(cast.shop, pedals, scenes=scenes))).text
        assert "Of the scenes it is heard in “lead”." in text

    def test_signal_number_and_place_number_are_both_there(self, cast: Cast) -> None:
        """P1 is first in the signal and stands to the right of P2 in the front row."""
        pedals = [b.pedal("P1", at=(200, 0)), b.pedal("P2", at=(20, 0)), b.pedal("P3")]
        rows = cast.browser("viewer").get(self.url(make_board(cast.shop, pedals))).context["rows"]
        assert [(row.pedal.ref, row.number, row.place) for row in rows] == [
            ("P1", 1, "F2"), ("P2", 2, "F1"), ("P3", 3, ""),
        ]  # fmt: skip

    def test_branches_are_groups_of_the_list_and_lanes_of_the_drawing(self, cast: Cast) -> None:
        """
        G1 - P1 (splitter) -+- P2 - A1
                            +- P3 - A2
        """
        splitter = with_jacks("P1", "splitter", IN="in", A="out", B="out")
        wired = links("G1.OUT > P1.IN", "P1.A > P2.IN", "P2.OUT > A1.IN", "P1.B > P3.IN", "P3.OUT > A2.IN")
        pedals = [splitter, b.pedal("P2"), b.pedal("P3"), b.pedal("P4")]
        board = make_board(cast.shop, pedals, links=wired, amps=(b.amp(), b.amp("A2")))
        answer = cast.browser("editor").get(self.url(board))
        assert [(one.heading, [row.pedal.ref for row in one.rows]) for one in answer.context["groups"]] == [
            ("Main line, G1.OUT to A1.IN", ["P1", "P2"]),
            ("Branch, P1.B to A2.IN", ["P3"]),
            ("Not wired", ["P4"]),
        ]
        assert "<svg" in answer.context["lanes"]

    def test_a_line_as_its_school_has_it_gives_no_reasons(self, cast: Cast, board: Board) -> None:
        answer = cast.browser("editor").get(self.url(board))
        assert answer.context["schools"][0].lines == ()
        assert "stands as this school has it" in answer.text

    def test_the_first_has_no_earlier_place_and_the_last_no_later(self, cast: Cast, board: Board) -> None:
        rows = cast.browser("editor").get(self.url(board)).context["rows"]
        assert [(row.earlier, row.later) for row in rows] == [(None, 2), (1, None)]

    def test_a_loose_pedal_can_be_wired_in(self, cast: Cast, board: Board) -> None:
        board.items.filter(link__isnull=False).delete()
        text = cast.browser("editor").get(self.url(board)).text
        assert text.count("Wire in last") == 2
