"""The demo's made cables: some on a board, a spare, one at the bench, a faulty and a scrapped one."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

from django.utils import timezone

from boardshop.bench.fits import as_new_cable
from boardshop.bench.services.cable_tests import record_test, report_fault, scrap_cable
from boardshop.boards.access import get_board_for
from boardshop.boards.models import Board, Link
from boardshop.boards.plan.read import load_plan
from boardshop.boards.services.made_cables import put_cable
from boardshop.core.cables import list_runs
from boardshop.core.cables.testing import Reading
from boardshop.crew.models import Person, Shop
from boardshop.gear.models import MadeCable
from boardshop.gear.records import MadeCableRecord
from boardshop.gear.services.made_cables import add_made_cable
from boardshop.ops.demo.cables import CABLES, PLUGS

ON_BOARD = "Brindlecroft order 14"
"""The board that is being made: its first runs have their cables."""
PUT_ON = 2

GOOD: dict[str, Reading] = {
    "tug": True,
    "tip_ohm": Decimal("0.08"),
    "sleeve_ohm": Decimal("0.04"),
    "insulation_mohm": "over",
    "crossed": True,
    "wiggle_ohm": Decimal("0.01"),
    "listened": True,
}
PATCH = MadeCableRecord(
    length=260,
    cable=CABLES["slim"].name,
    plug_a=PLUGS["flat"].name,
    plug_b=PLUGS["flat"].name,
    reel="R1",
    made_by="demo",
)


def add_made_cables(shop: Shop, owner: Person) -> None:
    """Made four weeks ago, and tested since."""
    day = timezone.localdate() - timedelta(days=28)
    patch = replace(PATCH, made_on=day)
    for board in Board.objects.filter(shop=shop, name=ON_BOARD):
        _make_runs(get_board_for(owner, board.code, editing=True), patch, owner)
    spare = add_made_cable(shop, replace(patch, length=450, where="case 2, left drawer"))
    record_test(spare, GOOD | {"pf": Decimal(47)}, on=day, by=owner, show=12)
    add_made_cable(shop, replace(patch, place="bench", where="next to be tested"))
    faulty = add_made_cable(shop, replace(patch, length=310))
    record_test(faulty, GOOD, on=day, by=owner, show=12)
    report_fault(
        faulty, on=day + timedelta(days=7), by=owner, show=15, symptom="crackles beside the tremolo", end="B",
        cause="joint", minutes_lost=6, action="swapped for a spare",
    )  # fmt: skip
    old = add_made_cable(shop, replace(patch, length=180, reel=""))
    scrap_cable(old, on=day + timedelta(days=9), by=owner, why="core broken behind plug A")


def _make_runs(board: Board, patch: MadeCableRecord, owner: Person) -> None:
    plan = load_plan(board)
    known = [run.ref for run in list_runs(plan) if run.cut_mm is not None][:PUT_ON]
    for link in [link for link in plan.links if link.ref in known]:
        made = add_made_cable(board.shop, replace(patch, **as_new_cable(plan, link)))
        record_test(made, GOOD, on=patch.made_on or timezone.localdate(), by=owner)
        row, whole = Link.objects.get(board=board, ref=link.ref), MadeCable.objects.get(pk=made.pk)
        put_cable(board, board.edit_number, row, whole)
