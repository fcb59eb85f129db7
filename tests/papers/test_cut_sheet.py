"""The cut sheet, read back from the PDF."""

import pytest
from django.urls import reverse

from boardshop.boards.models import Board
from boardshop.core.cables import plan_cuts
from boardshop.core.cables.cut_list import list_cables, list_dc_leads
from tests.bench.cut_boards import make_cut_board
from tests.board_factories import make_board, plan_of
from tests.factories import Cast
from tests.papers.printed import Printed, read_pdf

pytestmark = pytest.mark.django_db


def url(board: Board) -> str:
    return reverse("cut-sheet", args=[board.code])


def printed(cast: Cast, board: Board, **asked: str) -> Printed:
    answer = cast.browser("viewer").get(url(board), asked)
    assert answer["Content-Type"] == "application/pdf"
    return read_pdf(answer.content)


def closed_up(text: str) -> str:
    return text.replace(" ", "").replace("\u00ad", "")


def test_every_cable_stands_on_it_with_both_labels_and_its_length(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    text = closed_up(printed(cast, board).text)
    for cable in list_cables(plan_of(board)):
        for words in (cable.ref, *(end.label for end in cable.ends), f"{cable.length_mm} mm"):
            assert closed_up(words) in text, words
    for lead in list_dc_leads(plan_of(board)):
        assert closed_up(lead.label) in text


def test_the_plan_is_the_reports(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    text = closed_up(printed(cast, board).text)
    plan = plan_cuts(plan_of(board))
    assert plan.used
    for used in plan.used:
        for ref, mm in used.pieces:
            assert closed_up(f"{ref} {mm} mm") in text
    assert "Provedbest." in text


def test_what_is_cut_already_is_marked_and_left_out_of_the_plan(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    mm = dict(pair for used in plan_cuts(plan_of(board)).used for pair in used.pieces)
    whole, partly = closed_up(printed(cast, board).text), closed_up(printed(cast, board, cut="w2 W99").text)
    assert "isnotleftoutofit" in whole
    assert "cutalready" not in whole.replace("jobhascutalready", "")
    assert "Cutalready,andleftoutofthisplan:W2." in partly
    assert "isnotleftoutofit" not in partly
    assert f"W2{mm['W2']}mm" in whole
    assert f"W2{mm['W2']}mm" not in partly
    assert f"W3{mm['W3']}mm" in partly
    assert plan_cuts(plan_of(board), cut_already=["w2"]).used[0].pieces == (("W3", mm["W3"]),)


def test_the_cut_list_knows_that_nothing_is_cut_yet(cast: Cast) -> None:
    text = closed_up(printed(cast, make_cut_board(cast.shop), cut="").text)
    assert "leftout" not in text


def test_soldering_has_its_caution_and_nothing_is_called_safe(cast: Cast) -> None:
    text = " ".join(printed(cast, make_cut_board(cast.shop)).text.split())
    assert "Soldering: eye protection and fresh air" in text
    assert "12 mm to 15 mm" in text
    assert "declares nothing safe" in text


def test_a_board_with_nothing_on_it_is_no_crash(cast: Cast) -> None:
    board = make_board(cast.shop, 0, supplies=(), sources=(), amps=(), links=())
    assert "Nothing to cut." in printed(cast, board).text


def test_a_stranger_gets_404(cast: Cast) -> None:
    assert cast.browser("stranger").get(url(make_board(cast.shop))).status_code == 404


def test_cut_sheet_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").post(url(make_board(cast.shop))).status_code == 405
