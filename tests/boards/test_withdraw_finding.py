from typing import Any

import pytest
from django.test import Client as Browser

from boardshop.boards.models import AcceptedFinding, Board
from boardshop.core.findings import Finding
from tests.boards.contract import EditContract
from tests.boards.test_accept_finding import open_finding, posted
from tests.factories import Cast


def keep(board: Board, finding: Finding) -> AcceptedFinding:
    return AcceptedFinding.objects.create(
        board=board, rule=finding.rule, subjects=list(finding.subjects), why="as ordered"
    )


class TestWithdrawFinding(EditContract):
    name = "withdraw-finding"
    page = "cables"

    @pytest.fixture(autouse=True)
    def kept(self, board: Board) -> AcceptedFinding:
        finding = open_finding(board)
        type(self).typed = posted(finding, "cables")
        return keep(board, finding)

    def typed_for(self, board: Board, pedals: int) -> dict[str, Any]:
        finding = open_finding(board)
        keep(board, finding)
        return posted(finding, "cables")

    def test_the_finding_counts_again(self, browser: Browser, board: Board) -> None:
        self.post(browser, board)
        assert not AcceptedFinding.objects.exists()

    def test_a_rule_that_no_database_can_hold_is_not_found(self, browser: Browser, board: Board) -> None:
        assert self.post(browser, board, {"rule": "R0\0"}).status_code == 404

    def test_a_reason_that_is_not_there_is_not_found(self, browser: Browser, board: Board) -> None:
        assert self.post(browser, board, {"rule": "R99"}).status_code == 404

    def test_the_page_shows_the_reason_and_offers_to_take_it_back(self, cast: Cast, board: Board) -> None:
        text = cast.browser("editor").get(f"/boards/{board.code}").text
        assert "as ordered" in text
        assert "Take back" in text
        assert "Take back" not in cast.browser("viewer").get(f"/boards/{board.code}").text
