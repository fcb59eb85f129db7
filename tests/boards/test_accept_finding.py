from typing import Any, ClassVar

import pytest
from django.test import Client as Browser

from boardshop.boards.models import AcceptedFinding, Board
from boardshop.boards.sheet import BoardSheet
from boardshop.core.findings import Finding
from tests.board_factories import make_board
from tests.boards.contract import HTMX, RefusesWrongInput
from tests.core import builders as b
from tests.factories import Cast


def open_finding(board: Board, severity: str | None = None) -> Finding:
    """The first that stands, of this severity or of any that can be kept."""
    found = BoardSheet(board).findings
    return next(f for f in found if f.severity == severity or (severity is None and f.can_be_kept))


def posted(finding: Finding, page: str = "order") -> dict[str, Any]:
    return {"rule": finding.rule, "subjects": " ".join(finding.subjects), "page": page}


class TestAcceptFinding(RefusesWrongInput):
    name = "accept-finding"
    page = "power"
    wrong: ClassVar = {"why": " "}
    said = "Write why it is kept"

    @pytest.fixture(autouse=True)
    def finding(self, board: Board) -> Finding:
        finding = open_finding(board)
        type(self).typed = {**posted(finding, "power"), "why": "the player asked for it"}
        return finding

    def typed_for(self, board: Board, pedals: int) -> dict[str, Any]:
        return posted(open_finding(board), "power")

    def test_it_is_kept_with_who_and_why(
        self, cast: Cast, browser: Browser, board: Board, finding: Finding
    ) -> None:
        before = BoardSheet(board).counts
        self.post(browser, board)
        kept = AcceptedFinding.objects.get()
        assert (kept.rule, kept.why, kept.person) == (finding.rule, "the player asked for it", cast.editor)
        assert BoardSheet(board).counts[finding.severity] == before[finding.severity] - 1

    @pytest.mark.parametrize("page", ["board", "order", "layout", "cables", "power", "grounds"])
    def test_every_page_takes_it_and_draws_itself_again(
        self, browser: Browser, board: Board, page: str
    ) -> None:
        answer = self.post(browser, board, {"page": page}, headers=HTMX)
        assert (answer.status_code, answer.context["page"]) == (200, page)

    def test_the_longest_ref_with_the_longest_jack_is_kept(self, cast: Cast, browser: Browser) -> None:
        """A ref may have 40 characters, a power jack's name 20: the columns of the tables."""
        pedal = b.pedal("P" * 40, at=(20, 10), power=(b.power_jack("D" * 20),))
        board = make_board(cast.shop, [pedal], feeds=())
        finding = next(f for f in BoardSheet(board).findings if any(len(s) == 61 for s in f.subjects))
        self.post(browser, board, posted(finding))
        kept = next(f for f in BoardSheet(board).findings if f.subjects == finding.subjects)
        assert kept.accepted
        assert AcceptedFinding.objects.get().subjects == list(finding.subjects)

    def test_its_subjects_may_come_in_any_order(
        self, browser: Browser, board: Board, finding: Finding
    ) -> None:
        self.post(browser, board, {"subjects": " ".join(reversed(finding.subjects)).lower()})
        assert AcceptedFinding.objects.exists()

    def test_what_destroys_gear_is_never_kept(self, cast: Cast, browser: Browser) -> None:
        outlet = b.outlet("1", polarity="centre-positive")
        board = make_board(cast.shop, 1, supplies=(b.supply("S1", outlet),))
        answer = self.post(browser, board, posted(open_finding(board, "damage"), "power"))
        assert answer.status_code == 422
        assert "it can be cured, but not kept on purpose" in answer.text
        assert not AcceptedFinding.objects.exists()

    def test_no_form_is_offered_for_what_destroys_gear(self, cast: Cast, browser: Browser) -> None:
        outlet = b.outlet("1", polarity="centre-positive")
        board = make_board(cast.shop, 1, supplies=(b.supply("S1", outlet),))
        finding = open_finding(board, "damage")
        text = browser.get(f"/boards/{board.code}").text
        assert finding.message[:40] in text
        assert f'name="rule" value="{finding.rule}"' not in text

    def test_what_does_not_stand_cannot_be_kept(self, browser: Browser, board: Board) -> None:
        answer = self.post(browser, board, {"rule": "R99"})
        assert answer.status_code == 422
        assert "R99 no longer stands" in answer.text

    @pytest.mark.parametrize("page", ["board", "power"])
    def test_each_of_those_that_repeat_can_be_kept_by_itself(
        self, cast: Cast, browser: Browser, page: str
    ) -> None:
        pedals = [b.draws(b.pedal(f"P{n}"), connector=None) for n in (1, 2, 3)]
        feeds = [b.feed(f"S1.{n}", f"P{n}.DC", lead=None) for n in (1, 2, 3)]
        board = make_board(cast.shop, pedals, feeds=feeds)
        text = browser.get(f"/boards/{board.code}/{page}".removesuffix("/board")).text
        assert text.count('id="all-P29-unknown"') == 1
        for n in (1, 2, 3):
            assert (
                f'name="rule" value="P29"><input type="hidden" name="subjects" value="S1.{n} P{n}.DC"' in text
            )
        self.post(browser, board, {"rule": "P29", "subjects": "S1.2 P2.DC", "page": page})
        assert AcceptedFinding.objects.get(board=board).subjects == ["S1.2", "P2.DC"]

    def test_one_of_many_that_was_refused_stands_open_with_what_was_typed(
        self, cast: Cast, browser: Browser
    ) -> None:
        pedals = [b.draws(b.pedal(f"P{n}"), connector=None) for n in (1, 2)]
        board = make_board(
            cast.shop, pedals, feeds=[b.feed(f"S1.{n}", f"P{n}.DC", lead=None) for n in (1, 2)]
        )
        answer = self.post(browser, board, {"rule": "P29", "subjects": "S1.2 P2.DC", "why": " "})
        assert '<details class="fold" id="all-P29-unknown" open>' in answer.text
        assert '<details class="fold" id="all-P14-unknown">' in answer.text
