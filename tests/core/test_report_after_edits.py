"""What is kept of plans never shows: a report after any edits is that of a program that has just started."""

import json
import subprocess
import sys
from dataclasses import replace
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from boardshop.core.boardfile import dump_plan, load_plan_text
from boardshop.core.index import same_plan
from boardshop.core.plan import Accepted, BoardPlan, Place, SupplyPlace
from boardshop.core.printing import as_json
from boardshop.core.report import compute_report
from tests.core import builders as b
from tests.house.tree import ROOT
from tests.memories import forget_all


def start() -> BoardPlan:
    pedals = [b.pedal(f"P{n}", at=(20 + 90 * (n - 1), 20)) for n in range(1, 7)]
    outlets = [b.outlet(str(n)) for n in range(1, 7)]
    return b.board(
        *pedals,
        frame=b.frame(700, 300),
        supplies=(b.supply("S1", *outlets, width=160, depth=80, place=SupplyPlace(20, 200)),),
        links=b.chain("G1", *(pedal.ref for pedal in pedals), "A1"),
        feeds=tuple(b.feed(f"S1.{n}", f"P{n}.DC") for n in range(1, 6)),
    )


def with_pedal(plan: BoardPlan, at: int, change: dict[str, object]) -> BoardPlan:
    pedals = list(plan.pedals)
    pedals[at % len(pedals)] = replace(pedals[at % len(pedals)], **change)  # type: ignore[arg-type]
    return replace(plan, pedals=tuple(pedals))


def move(plan: BoardPlan, dice: Random) -> BoardPlan:
    place = Place(dice.randrange(650), dice.randrange(250), dice.choice((0, 90, 180, 270)))
    return with_pedal(plan, dice.randrange(6), {"place": dice.choice((place, place, None))})


def step_on(plan: BoardPlan, dice: Random) -> BoardPlan:
    return with_pedal(plan, dice.randrange(6), {"on": dice.choice((True, False, None))})


def change_kind(plan: BoardPlan, dice: Random) -> BoardPlan:
    return with_pedal(plan, dice.randrange(6), {"kind": dice.choice(("fuzz", "delay", "tuner", "overdrive"))})


def move_supply(plan: BoardPlan, dice: Random) -> BoardPlan:
    place = SupplyPlace(dice.randrange(500), dice.randrange(200), 0, dice.choice((True, False)))
    return replace(plan, supplies=(replace(plan.supplies[0], place=place),))


def rewire(plan: BoardPlan, dice: Random) -> BoardPlan:
    refs = [pedal.ref for pedal in plan.pedals]
    dice.shuffle(refs)
    return replace(plan, links=b.chain("G1", *refs, "A1"))


def give_length(plan: BoardPlan, dice: Random) -> BoardPlan:
    links = list(plan.links)
    at = dice.randrange(len(links))
    links[at] = replace(links[at], made=dice.choice((None, 250, 900)), route=dice.choice(("top", "under")))
    return replace(plan, links=tuple(links))


def feed_otherwise(plan: BoardPlan, dice: Random) -> BoardPlan:
    feeds = tuple(b.feed(f"S1.{dice.randrange(1, 7)}", f"P{n}.DC") for n in range(1, dice.randrange(2, 7)))
    return replace(plan, feeds=feeds)


def change_rules(plan: BoardPlan, dice: Random) -> BoardPlan:
    return replace(plan, rules=replace(plan.rules, gap_mm=dice.choice((0, 2, 40))))


def keep_on_purpose(plan: BoardPlan, dice: Random) -> BoardPlan:
    kept = dice.choice(compute_report(plan, 0).findings)
    return replace(plan, accepted=(Accepted(kept.rule, kept.subjects, "meant so"),))


EDITS = (
    *(move, move, move),
    *(step_on, change_kind, move_supply, rewire, give_length, feed_otherwise, change_rules, keep_on_purpose),
)


def edited(dice: Random, times: int) -> list[BoardPlan]:
    """The board after each edit, the first one as it was at the start."""
    plans = [start()]
    for _ in range(times):
        plans.append(same_plan(dice.choice(EDITS)(plans[-1], dice)))
    return plans


def written(plan: BoardPlan) -> bytes:
    return json.dumps(dump_plan(plan)).encode()


def printed(plan: BoardPlan) -> object:
    return as_json(compute_report(plan, 0))


@settings(max_examples=25)
@given(st.randoms(use_true_random=False))
def test_a_report_after_edits_is_that_of_nothing_known(dice: Random) -> None:
    plans = edited(dice, 6)
    known = [printed(plan) for plan in plans]
    again = [printed(plan) for plan in reversed(plans)][::-1]
    fresh = []
    for plan in plans:
        assert forget_all("boardshop.core")
        fresh.append(printed(load_plan_text(written(plan))))
    assert known == fresh
    assert again == fresh


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_it_is_that_of_a_process_of_its_own(seed: int) -> None:
    plan = edited(Random(seed), 8)[-1]
    command = [sys.executable, "-m", "boardshop.core", "report", "-"]
    answer = subprocess.run(command, cwd=ROOT, input=written(plan), capture_output=True, check=True)
    assert (
        answer.stdout.decode()
        == json.dumps(as_json(compute_report(plan)), ensure_ascii=False, indent=2) + "\n"
    )
