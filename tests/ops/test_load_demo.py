"""The demo loads whole, once, and every board reads back as the plan it was made from."""

import io
from dataclasses import replace

import pytest
from django.core.management import CommandError, call_command
from django.test import Client as Browser

from boardshop.boards.models import Board
from boardshop.boards.pages.standing import compare_with_released
from boardshop.boards.plan.read import load_plan
from boardshop.boards.services.revisions import asking, blocking
from boardshop.boards.sheet import BoardSheet
from boardshop.core.plan import BoardPlan
from boardshop.core.report import compute_report
from boardshop.core.vocabulary import SEVERITIES
from boardshop.ops.demo.boards import demo_boards
from boardshop.ops.demo.load import load_demo

pytestmark = pytest.mark.django_db


def comparable(plan: BoardPlan) -> BoardPlan:
    """Without what the shop's own shelves decide: the numbers of types, unlinked cable, the drawer."""
    bare = replace(plan, cables=(), plugs=(), stock=(), drawer=(), links=(), feeds=())
    return replace(bare, pedals=tuple(replace(p, unit=None) for p in plan.pedals))


def test_six_boards_of_8_to_18_pedals() -> None:
    load_demo()
    assert sorted(len(load_plan(board).pedals) for board in Board.objects.all()) == [8, 9, 10, 10, 12, 18]


def test_the_shops_drawer_is_that_of_every_board() -> None:
    load_demo()
    counts = {
        tuple((item.kind, item.count) for item in load_plan(board).drawer) for board in Board.objects.all()
    }
    adapters = (("reverser", 2), ("converter", 1), ("parallel", 1))
    assert counts == {(*adapters, ("lead", 4), ("lead", 2), ("lead", 1))}


def test_boards_read_back_as_they_were_written() -> None:
    load_demo()
    stored = {board.name: load_plan(board) for board in Board.objects.all()}
    for _, plan in demo_boards():
        assert comparable(stored[plan.name]) == comparable(plan)


def test_what_is_on_stage_and_what_was_changed_since() -> None:
    load_demo()
    found = {board.name: board for board in Board.objects.all()}
    standing = {name: compare_with_released(BoardSheet(board)) for name, board in found.items()}
    on_stage = {name: one for name, one in standing.items() if one.revision}
    assert sorted(on_stage) == ["Oakhollow fly rig", "Oakhollow main", "Tallow right"]
    assert [name for name, one in on_stage.items() if one.differs] == ["Tallow right"]
    assert [name for name, one in on_stage.items() if one.revision.reason] == ["Oakhollow main"]
    assert all(one.revision.note for one in on_stage.values())


def test_what_is_not_on_stage_could_not_be_or_is_being_made() -> None:
    load_demo()
    held = {}
    for board in Board.objects.filter(revisions=None):
        findings = BoardSheet(board).findings
        held[board.name] = (bool(blocking(findings)), bool(asking(findings)))
    assert held == {
        "Tallow left": (True, True),
        "Tallow centre": (False, False),
        "Brindlecroft order 14": (False, True),
    }


def test_the_printed_password_signs_in() -> None:
    out = io.StringIO()
    call_command("load_demo", stdout=out)
    name, password = (line.split(": ")[1] for line in out.getvalue().splitlines())
    assert Browser().login(username=name, password=password)


def test_if_empty_leaves_a_used_database_alone() -> None:
    load_demo()
    call_command("load_demo", "--if-empty", stdout=io.StringIO())
    assert Board.objects.count() == 6


def test_a_second_demo_is_refused() -> None:
    load_demo()
    with pytest.raises(CommandError, match="already"):
        call_command("load_demo")


def test_the_demo_shows_a_finding_of_every_severity() -> None:
    found = {finding.severity for _, plan in demo_boards() for finding in compute_report(plan).findings}
    assert found == set(SEVERITIES)


def test_one_board_is_clean() -> None:
    clean = [plan.name for _, plan in demo_boards() if not compute_report(plan).findings]
    assert clean == ["Oakhollow fly rig"]


def test_one_finding_is_kept_on_purpose() -> None:
    findings = [finding for _, plan in demo_boards() for finding in compute_report(plan).findings]
    assert [finding.rule for finding in findings if finding.accepted] == ["R23"]
