"""The page of the first power-on: each plug with what to expect, what was read, and what that says."""

import re
from typing import Any

import pytest
from django.test import Client as Browser
from django.urls import reverse

from boardshop.boards.models import Board, LeadReading
from boardshop.core.plan import DcLead, Tail, Venue
from tests.board_factories import make_board
from tests.boards.page_contract import PageContract
from tests.boards.readings import meter, meter_load
from tests.core import builders as b
from tests.core.feeding_cases import drawing, selectable
from tests.factories import Cast


class TestFirstPower(PageContract):
    name = "first-power"
    most_queries = 10

    def rows(self, cast: Cast, board: Board) -> list[Any]:
        rows: list[Any] = cast.browser("viewer").get(self.url(board)).context["rows"]
        return rows

    def test_it_only_reads(self, cast: Cast, board: Board) -> None:
        assert cast.browser("owner").post(self.url(board)).status_code == 405

    def test_readings_add_no_queries(
        self, cast: Cast, browser: Browser, django_assert_max_num_queries: Any
    ) -> None:
        board = make_board(cast.shop)
        for mv in range(9000, 9010):
            meter(board, cast.editor, mv=mv)
        meter_load(board, cast.editor, 18)
        with django_assert_max_num_queries(self.most_queries):
            browser.get(self.url(board))

    @pytest.fixture
    def browser(self, cast: Cast) -> Browser:
        return cast.browser("editor")

    def test_the_head_is_the_worse_of_plug_and_current(self, cast: Cast, board: Board) -> None:
        """The plug as planned, but 250 mA of an outlet of 100."""
        meter(board, cast.editor, mv=9000)
        meter_load(board, cast.editor, 250)
        page = cast.browser("viewer").get(self.url(board))
        assert page.context["rows"][0].head.state == "put right first"
        assert page.context["states"] == "1 put right first"

    def test_a_feed_that_is_wrong_as_planned_says_so_on_its_card(self, cast: Cast) -> None:
        board = make_board(cast.shop, [drawing(180, "P1")])
        (row,) = self.rows(cast, board)
        assert (row.planned.rule, row.planned.severity) == ("P08", "fault")
        assert (
            "The planned feed is to be put right first." in cast.browser("viewer").get(self.url(board)).text
        )

    def test_the_cautions_and_the_preparation_stand_before_the_first_plug(
        self, cast: Cast, board: Board
    ) -> None:
        text = cast.browser("viewer").get(self.url(board)).text
        first = text.index('class="meter-steps"')
        for words in (
            "people qualified for it, under the local code",
            "Nothing is plugged in yet",
            "outer sleeve is live",
            "Cap every plug that stays unused",
            "Pull every power plug at its pedal",
            "Read the mains range on each supply&#x27;s plate",
            "photograph",
            "Set the meter to DC volts",
            "Switch the mains on",
        ):
            assert -1 < text.find(words.replace("&#x27;", "'")) < first, words

    def test_the_mains_here_stand_beside_each_supplys_range(self, cast: Cast) -> None:
        board = make_board(cast.shop, venue=Venue(mv=120_000, hz=60))
        text = cast.browser("viewer").get(self.url(board)).text
        assert "compare both with the mains here: 120 V, 60 Hz." in text
        assert "90 to 264 V, 50/60 Hz, inlet C8" in text

    def test_a_supply_that_does_not_fit_the_mains_is_told_above_its_plugs(self, cast: Cast) -> None:
        board = make_board(cast.shop, venue=Venue(mv=300_000, hz=50))
        (part,) = cast.browser("viewer").get(self.url(board)).context["parts"]
        assert [finding.rule for finding in part.findings] == ["P20"]

    def test_mains_that_nobody_recorded_are_told_as_unknown(self, cast: Cast, board: Board) -> None:
        assert "are not recorded" in cast.browser("viewer").get(self.url(board)).text

    def test_outlets_that_a_hand_can_turn_are_listed_with_their_setting(self, cast: Cast) -> None:
        supplies = (b.supply("S1", selectable("1"), b.outlet("2")),)
        feeds = (b.feed("S1.1", "P1.DC", 9000), b.feed("S1.2", "P2.DC"))
        board = make_board(cast.shop, supplies=supplies, feeds=feeds)
        assert cast.browser("viewer").get(self.url(board)).context["turned"] == [("S1.1", "9 V")]

    def test_what_is_expected_is_said_in_full(self, cast: Cast, board: Board) -> None:
        (row,) = self.rows(cast, board)
        assert row.expected == "9 V DC, centre-negative"
        assert row.stands == "8.5 V to 9.6 V DC, centre-negative"
        assert row.draws == "rated 20 mA, outlet up to 100 mA"
        assert (row.number, row.outlets) == (1, "S1.1")

    def test_what_nobody_recorded_is_said_as_unknown(self, cast: Cast) -> None:
        bare = b.power_jack(nominal=None, min=None, max=None, polarity=None, current=None, rated=None)
        outlet = b.outlet("1", settings=(), current=None, polarity=None)
        board = make_board(cast.shop, [b.pedal("P1", power=(bare,))], supplies=(b.supply("S1", outlet),))
        (row,) = self.rows(cast, board)
        assert row.expected == ("voltage unknown AC or DC unknown, polarity unknown until it is metered")
        assert row.stands == "range unknown, labelled voltage unknown AC or DC unknown, polarity unknown"
        assert row.draws == "rated current unknown, limit unknown"

    def test_an_unregulated_outlet_says_what_an_open_plug_reads(self, cast: Cast) -> None:
        supplies = (b.supply("S1", b.outlet("1", regulated=False)),)
        (row,) = self.rows(cast, make_board(cast.shop, supplies=supplies))
        assert "11.7 V to 14.4 V while nothing is plugged in" in row.expected

    def test_one_row_for_each_plug_of_a_chain(self, cast: Cast) -> None:
        lead = DcLead(length=300, awg=24, tails=(Tail(100, awg=24), Tail(100, awg=24)))
        board = make_board(cast.shop, feeds=(b.feed("S1.1", ["P1.DC", "P2.DC"], lead=lead),))
        rows = self.rows(cast, board)
        assert [(row.step.end, row.outlets) for row in rows] == [("P1.DC", "S1.1"), ("P2.DC", "S1.1")]
        assert rows[0].draws == "rated 20 mA, outlet up to 100 mA, shared with P2.DC"

    def test_what_nothing_feeds_is_named(self, cast: Cast, board: Board) -> None:
        assert "Nothing feeds P2.DC yet" in cast.browser("viewer").get(self.url(board)).text

    def test_nothing_is_as_planned_before_it_was_metered(self, cast: Cast, board: Board) -> None:
        page = cast.browser("viewer").get(self.url(board))
        assert page.context["states"] == "1 not metered"
        assert "As planned" not in page.text

    def test_a_right_reading_is_as_planned_with_who_and_when(self, cast: Cast, board: Board) -> None:
        meter(board, cast.editor)
        page = cast.browser("viewer").get(self.url(board))
        assert page.context["states"] == "1 as planned"
        at = LeadReading.objects.get().at
        assert "9.1 V" in page.text
        assert f'{cast.editor}, <span class="figures">{at:%Y-%m-%d %H:%M}</span>' in page.text
        assert " safe " not in page.text.replace("declares nothing safe", "").lower()

    def test_a_wrong_reading_says_do_not_plug_and_asks_for_no_current(self, cast: Cast) -> None:
        board = make_board(cast.shop)
        meter(board, cast.editor, mv=12_000)
        page = cast.browser("editor").get(self.url(board))
        (row,) = page.context["rows"]
        assert row.plug_verdict.state == "do not plug"
        assert [finding.rule for finding in row.plug_verdict.findings] == ["P03", "P28"]
        assert "Do not plug" in page.text
        assert 'name="reads" value="load"' not in page.text
        assert "only after this plug reads as planned" in page.text

    def test_a_right_reading_asks_for_the_current(self, cast: Cast, board: Board) -> None:
        assert 'value="load"' not in cast.browser("editor").get(self.url(board)).text
        meter(board, cast.editor)
        assert 'name="reads" value="load"' in cast.browser("editor").get(self.url(board)).text

    def test_a_reading_of_an_earlier_feed_does_not_count(self, cast: Cast, board: Board) -> None:
        meter(board, cast.editor)
        typed = {"outlet": "S1.3@9000", "edit": 1}
        cast.browser("editor").post(reverse("feed-pedal", args=[board.code, "P1.DC"]), typed)
        page = cast.browser("viewer").get(self.url(board))
        (row,) = page.context["rows"]
        assert (row.plug, row.plug_verdict.state) == (None, "not metered")
        assert row.earlier_feed[0] == "outlet: S1.1 then, S1.3 now"
        assert "Metered for an earlier feed; meter it again." in page.text
        assert [reading.mv for reading in row.log] == [9100]

    def test_a_current_of_an_earlier_feed_does_not_count_either(self, cast: Cast, board: Board) -> None:
        meter(board, cast.editor)
        meter_load(board, cast.editor, 18)
        Board.objects.get().items.get(ref="S1").supplyplacement.model.outlets.update(
            polarity="centre-positive"
        )
        (row,) = self.rows(cast, board)
        assert (row.plug, row.load, row.load_verdict) == (None, None, None)
        assert row.plug_verdict.state == "do not plug"

    def test_loads_that_were_read_on_one_outlet_are_added_up(self, cast: Cast) -> None:
        lead = DcLead(length=300, awg=24, tails=(Tail(100, awg=24), Tail(100, awg=24)))
        feeds = (b.feed("S1.1", ["P1.DC", "P2.DC"], lead=lead),)
        board = make_board(cast.shop, [drawing(60, "P1"), drawing(60, "P2")], feeds=feeds)
        for end in ("P1.DC", "P2.DC"):
            meter(board, cast.editor, end)
        meter_load(board, cast.editor, 45, "P1.DC")
        assert self.rows(cast, board)[0].load_verdict.findings[0].severity == "fault"
        meter_load(board, cast.editor, 30, "P2.DC")
        assert self.rows(cast, board)[0].load_verdict.state == "as planned"

    def test_lengths_are_said_in_the_shops_unit(self, cast: Cast) -> None:
        board = make_board(cast.shop)
        meter(board, cast.editor)
        cast.shop.length_unit = "in"
        cast.shop.save()
        board.feeds.get().lead.__class__.objects.update(length=254)
        text = cast.browser("viewer").get(self.url(board)).text
        assert "23.62 in, AWG 24 then, 10.00 in, AWG 24 now" in text

    def test_what_people_wrote_beside_a_reading_stays_text(self, cast: Cast, board: Board) -> None:
        meter(board, cast.editor)
        LeadReading.objects.update(note="<img src=x>", who="<b>Jo</b>")
        text = cast.browser("editor").get(self.url(board)).text
        assert "<img src=x>" not in text
        assert "<b>Jo</b>" not in text

    def test_each_form_works_without_scripts_and_says_its_plug(self, cast: Cast, board: Board) -> None:
        text = cast.browser("editor").get(self.url(board)).text
        url = reverse("record-reading", args=[board.code, "P1.DC"])
        assert f'method="post" action="{url}" hx-post="{url}"' in text
        assert 'Record<span class="visually-hidden"> P1.DC</span>' in text


@pytest.mark.django_db
def test_the_stage_page_knows_nothing_of_readings(cast: Cast) -> None:
    """What was metered at the bench changes no word of what is released, nor makes it differ."""
    board = make_board(cast.shop)
    typed = {"edit": 0, "note": "first", "reason": "for the test"}
    cast.browser("owner").post(reverse("release-revision", args=[board.code]), typed)
    viewer, url = cast.browser("viewer"), reverse("stage-board", args=[board.code])
    before = without_tokens(viewer.get(url).text)
    assert "revision 1" in before
    meter(board, cast.editor)
    assert without_tokens(viewer.get(url).text) == before
    assert "is as revision 1" in viewer.get(reverse("board", args=[board.code])).text


def without_tokens(page: str) -> str:
    return re.sub(r'X-CSRFToken": "[^"]*"|csrfmiddlewaretoken" value="[^"]*"', "", page)
