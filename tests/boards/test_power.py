import re
from dataclasses import replace
from datetime import date
from typing import Any

import pytest

from boardshop.boards.models import Board
from boardshop.core.plan import Accepted
from boardshop.core.power import compute_power
from boardshop.gear.models import UnitDraw
from tests.board_factories import make_board, plan_of
from tests.boards.page_contract import PageContract
from tests.boards.readings import meter
from tests.core import builders as b
from tests.core.feeding_cases import drawing, selectable
from tests.factories import Cast


class TestPower(PageContract):
    name = "power"

    def test_loads_are_the_cores(self, cast: Cast, board: Board) -> None:
        section = compute_power(plan_of(board))
        face = cast.browser("viewer").get(self.url(board)).context["faces"][0]
        assert [card.row for bay in face.bays for card in bay.cards] == list(section.outlets)
        assert face.total == section.supplies[0]

    def test_the_first_jack_without_a_feed_stands_open(self, cast: Cast, board: Board) -> None:
        assert cast.browser("editor").get(self.url(board)).context["opened"].ref == "P2.DC"

    def test_another_jack_can_be_opened(self, cast: Cast, board: Board) -> None:
        page = cast.browser("editor").get(self.url(board), {"open": "p1.dc"})
        assert page.context["opened"].ref == "P1.DC"
        assert '<input type="radio" name="outlet" value="S1.1@9000" checked>' in page.text

    @pytest.mark.parametrize(("adapter", "said"), [("series", True), ("parallel", False)])
    def test_outlets_in_series_tell_their_sum(self, cast: Cast, adapter: str, said: bool) -> None:
        board = make_board(cast.shop, 1, feeds=(b.feed(["S1.1", "S1.2"], "P1.DC", adapters=(adapter,)),))
        text = cast.browser("viewer").get(self.url(board)).text
        assert ('<span class="figures">18 V</span> together' in text) == said

    @pytest.mark.parametrize(
        ("mv", "polarity", "says"),
        [
            (9000, "centre-negative", ""),
            (18000, "centre-negative", "do not plug"),
            (9000, "ac", "do not plug"),
        ],
    )
    def test_a_plug_that_was_metered_wrong_is_no_match(
        self, cast: Cast, board: Board, mv: int, polarity: str, says: str
    ) -> None:
        meter(board, cast.editor, mv=mv, polarity=polarity)
        page = cast.browser("viewer").get(self.url(board))
        assert page.context["rows"][0].metered == says
        assert ("metered at its plug: do not plug" in page.text) == bool(says)

    def test_a_reading_of_another_feed_bars_nothing(self, cast: Cast, board: Board) -> None:
        meter(board, cast.editor, mv=18000)
        cast.browser("editor").post(
            f"/boards/{board.code}/feeds/P1.DC/move",
            {"edit": Board.objects.get(pk=board.pk).edit_number, "outlet": "S1.2@9000"},
        )
        assert cast.browser("viewer").get(self.url(board)).context["rows"][0].metered == ""

    def test_an_unknown_jack_opens_nothing_else(self, cast: Cast, board: Board) -> None:
        page = cast.browser("editor").get(self.url(board), {"open": "P9.DC<script>"})
        assert page.status_code == 200
        assert "P9.DC<script>" not in page.text

    def test_what_fits_is_never_called_safe(self, cast: Cast, board: Board) -> None:
        text = cast.browser("editor").get(self.url(board)).text
        assert "matches" in text
        assert ">safe" not in text.lower()
        assert "Read both labels and measure the plug" in text

    def sums(self, cast: Cast, board: Board, page: str = "power") -> str:
        """What stands beside the supply's name."""
        text = cast.browser("viewer").get(f"/boards/{board.code}/{page}".removesuffix("/board")).text
        found = re.search(r'id="supply-S1">.*?<p class="figures">(.*?)</p>', text, re.DOTALL)
        assert found
        return found[1]

    @pytest.mark.parametrize("page", ["power", "board"])
    def test_a_sum_that_leaves_out_a_draw_is_called_the_least(self, cast: Cast, page: str) -> None:
        pedals = [drawing(50, "P1"), drawing(None, "P2")]
        feeds = [b.feed("S1.1", "P1.DC"), b.feed("S1.2", "P2.DC")]
        supply = b.supply("S1", b.outlet("1"), b.outlet("2"), limit_mw=1000)
        board = make_board(cast.shop, pedals, supplies=(supply,), feeds=feeds)
        assert self.sums(cast, board, page) == "at least 50 mA, at least 450 of 1000 mW, at least 45.0 %"
        text = cast.browser("viewer").get(self.url(board)).text
        assert "at least 0 of 100 mA" in text
        assert "at least 0.0 %" in text

    @pytest.mark.parametrize("page", ["power", "board"])
    def test_a_sum_that_leaves_out_a_voltage_is_called_the_least(self, cast: Cast, page: str) -> None:
        feeds = [b.feed("S1.1", "P1.DC")]
        supplies = (b.supply("S1", selectable("1")),)
        board = make_board(cast.shop, [drawing(50, "P1")], supplies=supplies, feeds=feeds)
        assert self.sums(cast, board, page) == "50 mA, at least 0 mW"

    def test_a_sum_that_counts_everything_is_not(self, cast: Cast, board: Board) -> None:
        assert "at least" not in self.sums(cast, board)


def text_of(html: str) -> str:
    return " ".join(re.sub(r"<[^>]+>", " ", html).split())


def part(text: str, start: str, end: str) -> str:
    """From the tag with this id to the end of its element, in words."""
    begin = text.index(f'id="{start}"')
    return text_of(text[begin : text.index(end, begin)])


@pytest.mark.django_db
class TestTheUnitAsItIs:
    """Isolated 1, then 2 and 3 of group A (300 mA), then 4 with a switch, then 5 of group A again."""

    @pytest.fixture
    def board(self, cast: Cast) -> Board:
        group = {"group": "A", "group_max_ma": 300, "max_ma": 200}
        outlets = [
            b.outlet("1", polarity="centre-positive"),
            b.outlet("2", **group),
            b.outlet("3", **group),
            selectable("4"),
            b.outlet("5", **group),
        ]
        pedals = [drawing(180, "P1"), drawing(150, "P2"), drawing(None, "P3"), drawing(45, "P4")]
        feeds = [b.feed("S1.1", "P1.DC"), b.feed("S1.2", "P2.DC"), b.feed("S1.4", "P3.DC", 18000)]
        feeds += [b.feed("S1.5", "P4.DC")]
        return make_board(
            cast.shop, pedals, supplies=(b.supply("S1", *outlets, limit_mw=10_000),), feeds=feeds
        )

    def look(self, cast: Cast, board: Board, role: str = "viewer") -> Any:
        return cast.browser(role).get(f"/boards/{board.code}/power")

    def test_outlets_lie_in_their_recorded_sequence_and_groups_stand_together(
        self, cast: Cast, board: Board
    ) -> None:
        (face,) = self.look(cast, board).context["faces"]
        assert [(bay.group, [card.ref for card in bay.cards], bay.is_rest) for bay in face.bays] == [
            ("", ["S1.1"], False),
            ("A", ["S1.2", "S1.3"], False),
            ("", ["S1.4"], False),
            ("A", ["S1.5"], True),
        ]

    def test_a_groups_sum_counts_every_outlet_of_it(self, cast: Cast, board: Board) -> None:
        text = self.look(cast, board).text
        assert text.count("one shared return") == 2
        assert "195 of 300 mA, 65.0 %" in text_of(text).replace("mA ,", "mA,")
        assert "105 mA spare, within the planned 80 %" in text

    def test_an_overload_in_figures_and_words(self, cast: Cast, board: Board) -> None:
        said = part(self.look(cast, board).text, "outlet-S1-1", "</li>")
        assert "180 of 100 mA, 180.0 % over its limit, 80 mA too much" in said
        assert "DC centre-positive" in said

    def test_what_an_outlet_is_set_to_and_what_else_it_can(self, cast: Cast, board: Board) -> None:
        said = part(self.look(cast, board).text, "outlet-S1-4", "</li>")
        assert "S1.4 18 V" in said
        assert "can be set to 9 V, 500 mA; 18 V, 250 mA" in said

    def test_an_unknown_draw_is_never_within(self, cast: Cast, board: Board) -> None:
        said = part(self.look(cast, board).text, "outlet-S1-4", "</li>")
        assert "at least 0 of 250 mA, at least 0.0 %" in said
        assert "at most 250 mA spare, a draw is not recorded" in said

    def test_nothing_hangs_on_a_free_one(self, cast: Cast, board: Board) -> None:
        assert part(self.look(cast, board).text, "outlet-S1-3", "</li>").endswith("9 V, 200 mA free")

    def test_findings_stand_beside_both_things_and_lead_to_the_list(self, cast: Cast, board: Board) -> None:
        answer = self.look(cast, board)
        outlet = part(answer.text, "outlet-S1-1", "</li>\n</ol>")
        jack = part(answer.text, "feed-P1-DC", "</li>")
        for said in (outlet, jack):
            assert "Damage P05 S1.1 arrives centre-positive" in said
            assert "Fault P08 S1.1 carries 180 mA of 100 mA" in said
        worst = answer.context["findings"].pressing[0]
        assert f'<a class="rule" href="#{worst.key}">' in answer.text
        assert f'id="{worst.key}"' in answer.text

    def test_a_kept_one_is_marked_there_too(self, cast: Cast, board: Board) -> None:
        typed = {
            "rule": "P08",
            "subjects": "S1.1 P1.DC",
            "page": "power",
            "why": "for one song",
            "edit": 0,
        }
        cast.browser("editor").post(f"/boards/{board.code}/keep", typed)
        answer = self.look(cast, board)
        row = next(row for row in answer.context["rows"] if row.ref == "P1.DC")
        assert [note.rule for note in row.beside.rest if note.is_kept] == ["P08"]
        assert "Kept on purpose: P08" in part(answer.text, "outlet-S1-1", "</li>\n</ol>")

    def test_what_is_only_kept_does_not_match(self, cast: Cast) -> None:
        feeds = (b.feed("S1.1", "P1.DC"),)
        kept = (Accepted("P08", ("S1.1", "P1.DC"), "for one song"),)
        board = make_board(cast.shop, [drawing(90, "P1")], feeds=feeds, accepted=kept)
        said = part(self.look(cast, board).text, "feed-P1-DC", "</li>")
        assert "kept on purpose" in said
        assert "matches" not in said

    def test_a_chip_can_be_taken_by_an_editor_only(self, cast: Cast, board: Board) -> None:
        assert 'data-jack="P1.DC"' in self.look(cast, board, "editor").text
        assert "data-jack" not in self.look(cast, board).text


@pytest.mark.django_db
class TestWhatWasMeasured:
    def test_who_and_when_stand_beside_what_the_label_says(self, cast: Cast) -> None:
        jack = replace(b.power_jack(), rated=200, measured=180)
        board = make_board(cast.shop, [b.pedal("P1", power=(jack,)), drawing(20, "P2")])
        UnitDraw.objects.update(on=date(2026, 3, 9), by="crew")
        text = cast.browser("viewer").get(f"/boards/{board.code}/power").text
        assert "measured 180 mA on March 9, 2026 by crew, rated 200 mA" in text
        assert "rated 20 mA" in part(text, "feed-P2-DC", "</li>")

    def test_without_a_date_nothing_is_made_up(self, cast: Cast) -> None:
        jack = replace(b.power_jack(), rated=None, measured=180)
        board = make_board(cast.shop, [b.pedal("P1", power=(jack,))])
        text = cast.browser("viewer").get(f"/boards/{board.code}/power").text
        assert "measured 180 mA, rating not recorded" in text

    def test_neither_is_said_so(self, cast: Cast) -> None:
        board = make_board(cast.shop, [drawing(None, "P1")])
        assert "draw not recorded" in cast.browser("viewer").get(f"/boards/{board.code}/power").text

    @pytest.mark.parametrize("pedals", [1, 18])
    def test_measured_units_ask_no_more(
        self, cast: Cast, pedals: int, django_assert_max_num_queries: Any
    ) -> None:
        jack = replace(b.power_jack(), measured=30)
        board = make_board(cast.shop, [b.pedal(f"P{n}", power=(jack,)) for n in range(1, pedals + 1)])
        browser = cast.browser("editor")
        with django_assert_max_num_queries(9):
            browser.get(f"/boards/{board.code}/power")


@pytest.mark.django_db
def test_every_waiting_jack_stands_in_the_tray(cast: Cast) -> None:
    board = make_board(cast.shop, 3)
    answer = cast.browser("viewer").get(f"/boards/{board.code}/power")
    assert [chip.ref for chip in answer.context["waiting"]] == ["P2.DC", "P3.DC"]
    assert "2 of 3" in part(answer.text, "waiting", "</ul>")
