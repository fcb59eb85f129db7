import re
from typing import Any, ClassVar

import pytest
from django.test import Client as Browser

from boardshop.boards.history.state import digest_of, read_state
from boardshop.boards.models import Board, Change, LeadReading
from boardshop.boards.services.history import find_undoable
from tests.board_factories import make_board
from tests.boards.contract import HTMX, NamesAThing, RefusesWrongInput
from tests.boards.readings import RIGHT, meter
from tests.core import builders as b
from tests.factories import Cast


class TestRecordPlug(RefusesWrongInput, NamesAThing):
    name = "record-reading"
    args = ("P1.DC",)
    page = "first-power"
    typed: ClassVar = RIGHT
    wrong: ClassVar = {"volts": "much"}
    said = "“much” is no voltage"
    unknown = ("P9.DC",)
    # The steps are made once more for the edit, and what is kept is read for the page.
    most_queries = 19

    def typed_texts(self) -> list[str]:
        return ["9,1"]

    def test_the_reading_is_kept_with_who_and_what_was_expected(self, cast: Cast, board: Board) -> None:
        self.post(cast.browser("editor"), board, {"note": "new battery in the meter"})
        reading = LeadReading.objects.get()
        assert (reading.end, reading.mv, reading.polarity) == ("P1.DC", 9100, "centre-negative")
        assert (reading.load_ma, reading.note) == (None, "new battery in the meter")
        assert (reading.who, reading.person) == (str(cast.editor), cast.editor)
        assert dict(reading.expects)["outlet"] == "S1.1"
        assert dict(reading.expects)["set to"] == "9 V"

    def test_a_polarity_that_was_not_read_stays_unknown(self, browser: Browser, board: Board) -> None:
        answer = self.post(browser, board, {"polarity": ""}, headers=HTMX)
        assert LeadReading.objects.get().polarity == ""
        assert answer.context["rows"][0].plug_verdict.state == "cannot be told"

    @pytest.mark.parametrize(
        ("volts", "mv"), [("9", 9000), ("9,12", 9120), ("9.12 V", 9120), ("9120 mV", 9120), ("0", 0)]
    )
    def test_volts_as_people_type_them(self, browser: Browser, board: Board, volts: str, mv: int) -> None:
        assert self.post(browser, board, {"volts": volts}).status_code == 303
        assert LeadReading.objects.get().mv == mv

    @pytest.mark.parametrize(
        ("typed", "said"),
        [
            ({"volts": ""}, "Write the volts that the meter shows"),
            ({"volts": "-9.1"}, "write 9.1, and choose what it means"),
            ({"volts": "−9,1"}, "write 9,1, and choose what it means"),
            ({"volts": "9000"}, "without a unit would be volts"),
            ({"polarity": "sideways"}, "sideways"),
            ({"note": "x" * 201}, "200"),
        ],
    )
    def test_what_cannot_be_a_reading(
        self, browser: Browser, board: Board, typed: dict[str, str], said: str
    ) -> None:
        answer = self.post(browser, board, typed, headers=HTMX)
        assert answer.status_code == 422
        assert said in answer.text
        assert f'value="{typed.get("volts", "9,1")}"' in answer.text
        assert not LeadReading.objects.exists()

    def test_what_was_chosen_stays_chosen_after_a_fault(self, browser: Browser, board: Board) -> None:
        answer = self.post(browser, board, {"volts": "much", "note": "left bench"}, headers=HTMX)
        assert answer.text.count('value="centre-negative" id="plug-P1-DC-polarity-1" checked') == 1
        assert '<details class="fold" open><summary>Add a note' in answer.text

    def test_a_jack_that_nothing_feeds_has_no_plug(self, browser: Browser, board: Board) -> None:
        url = self.url(board, ("P2.DC",))
        answer = browser.post(url, {**RIGHT, "edit": 0})
        assert answer.status_code == 422
        assert "Nothing feeds P2.DC now, so it has no plug to meter" in answer.text
        assert not LeadReading.objects.exists()

    def test_what_was_read_is_not_lost_when_the_plug_was_pulled_meanwhile(
        self, cast: Cast, browser: Browser, board: Board
    ) -> None:
        cast.browser("owner").post(f"/boards/{board.code}/feeds/P1.DC/unfeed", {"edit": 0})
        answer = self.post(browser, board, {"edit": 0})
        assert answer.status_code == 409
        assert "You had sent this too, for which this page has no field now" in answer.text
        assert "<dd>9,1</dd>" in answer.text

    def test_a_newer_reading_is_shown_and_the_older_one_is_kept(self, browser: Browser, board: Board) -> None:
        self.post(browser, board, {"volts": "8"})
        row = self.post(browser, board, {"edit": 1}, headers=HTMX).context["rows"][0]
        assert row.plug.mv == 9100
        assert [reading.mv for reading in row.log] == [8000]

    def test_the_same_form_sent_twice_is_one_reading(self, browser: Browser, board: Board) -> None:
        assert [self.post(browser, board, {"edit": 0}).status_code for _ in range(2)] == [303, 303]
        assert LeadReading.objects.count() == 1

    def test_after_a_late_one_the_same_can_be_sent_again(self, browser: Browser, board: Board) -> None:
        Board.objects.update(edit_number=5)
        answer = self.post(browser, board, {"edit": 4})
        assert "Make my change again" in answer.text
        assert "now: nothing" not in answer.text
        again = dict(
            re.findall(r'type="hidden" name="(\w+)" value="([^"]*)"', answer.text.split("Make my")[0])
        )
        assert browser.post(self.url(board), again | {"edit": 5}).status_code == 303
        assert LeadReading.objects.get().mv == 9100


class TestRecordLoad(RefusesWrongInput, NamesAThing):
    name = "record-reading"
    args = ("P1.DC",)
    page = "first-power"
    typed: ClassVar = {"reads": "load", "load": "42,0"}
    wrong: ClassVar = {"load": "some"}
    said = "“some” is no current"
    unknown = ("P9.DC",)
    most_queries = 20

    @pytest.fixture
    def board(self, cast: Cast) -> Board:
        return self.metered(cast, make_board(cast.shop))

    def metered(self, cast: Cast, board: Board) -> Board:
        """Back at edit 0, as the contract has it."""
        meter(board, cast.editor)
        Change.objects.all().delete()
        Board.objects.filter(pk=board.pk).update(edit_number=0)
        return board

    def typed_texts(self) -> list[str]:
        return ["42,0"]

    def test_its_queries_do_not_grow_with_the_board(
        self, cast: Cast, browser: Browser, django_assert_max_num_queries: Any
    ) -> None:
        for pedals in self.sizes:
            board = self.metered(cast, make_board(cast.shop, pedals))
            with django_assert_max_num_queries(self.most_queries):
                assert self.post(browser, board, {"edit": 0}, headers=HTMX).status_code == 200

    def test_the_current_is_kept_as_a_reading_of_its_own(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        load, plug = LeadReading.objects.order_by("-pk")
        assert (load.load_ma, load.mv, load.polarity) == (42, None, "")
        assert plug.mv == 9100

    def test_a_plug_that_was_not_metered_takes_no_current(self, cast: Cast, browser: Browser) -> None:
        board = make_board(cast.shop)
        answer = self.post(browser, board, headers=HTMX)
        assert answer.status_code == 422
        assert "was not metered as it is fed now" in answer.text
        assert 'value="42,0"' in answer.text
        assert not LeadReading.objects.exists()

    def test_a_plug_that_is_fed_otherwise_now_takes_none_either(self, browser: Browser, board: Board) -> None:
        board.feeds.get().outlets.update(
            outlet=board.items.get(ref="S1").supplyplacement.model.outlets.all()[2]
        )
        answer = self.post(browser, board)
        assert answer.status_code == 422
        assert LeadReading.objects.count() == 1


pytestmark = pytest.mark.django_db


def test_a_reading_is_no_part_of_the_plan(cast: Cast) -> None:
    """Undo steps over it, and a released revision does not differ for it."""
    board = make_board(cast.shop)
    before = digest_of(read_state(board))
    meter(board, cast.editor)
    board.refresh_from_db()
    board.person = cast.editor
    assert digest_of(read_state(board)) == before
    assert board.changes.latest("number").sentences == [
        "The plug for P1.DC was metered: 9.1 V, centre-negative."
    ]
    assert find_undoable(board) is None


def test_a_reading_follows_its_pedal_when_that_is_called_otherwise(cast: Cast) -> None:
    board = make_board(cast.shop)
    meter(board, cast.editor)
    board.items.filter(ref="P1").update(ref="P7")
    page = cast.browser("viewer").get(f"/boards/{board.code}/power/first-power")
    (row,) = page.context["rows"]
    assert (row.step.end, row.plug.end, row.plug_verdict.state) == ("P7.DC", "P1.DC", "as planned")


def test_each_jack_of_one_pedal_has_its_own_reading(cast: Cast) -> None:
    two = b.pedal("P1", power=(b.power_jack("DC"), b.power_jack("AUX")), name="Twin Kettle")
    board = make_board(cast.shop, [two], feeds=(b.feed("S1.1", "P1.DC"), b.feed("S1.2", "P1.AUX")))
    meter(board, cast.editor, "P1.AUX")
    rows = cast.browser("viewer").get(f"/boards/{board.code}/power/first-power").context["rows"]
    assert [(row.step.end, row.plug_verdict.state) for row in rows] == [
        ("P1.DC", "not metered"),
        ("P1.AUX", "as planned"),
    ]


def test_a_reading_is_still_there_when_its_pedal_was_taken_off_and_comes_back(cast: Cast) -> None:
    board, browser = make_board(cast.shop), cast.browser("editor")
    meter(board, cast.editor)
    address = f"/boards/{board.code}"
    browser.post(f"{address}/pedals/P1/remove", {"edit": 1})
    assert browser.get(f"{address}/power/first-power").context["rows"] == []
    assert browser.post(f"{address}/undo", {"edit": 2}).status_code in (302, 303)
    (row,) = browser.get(f"{address}/power/first-power").context["rows"]
    assert (row.plug.mv, row.plug_verdict.state) == (9100, "as planned")
