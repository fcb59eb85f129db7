"""The figures of the layout section, and how its messages name things."""

from dataclasses import replace

import pytest

from boardshop.core.layout import compute_layout
from boardshop.core.plan import Frame, Keepout, Point, Tier
from tests.core.builders import board, frame, pedal
from tests.core.layout_boards import PLAIN, findings_of, two


def test_free_percent_takes_off_bodies_and_keep_outs():
    plan = two(100)
    assert compute_layout(plan).free_percent == round(100 - 100 * 2 * 73 * 130 / (600 * 320), 1)
    kept = replace(plan, frame=frame(keepouts=(Keepout(0, 200, 100, 100),)))
    assert compute_layout(kept).free_percent == round(100 - 100 * (2 * 73 * 130 + 10_000) / (600 * 320), 1)


@pytest.mark.parametrize(("depth", "told"), [(90, []), (91, ["L19"])])
def test_spare_room_is_advised(depth, told):
    filled = pedal("P1", at=(0, 0), **(PLAIN | {"width": 100, "depth": depth}))
    plan = board(filled, frame=frame(100, 100))
    assert [finding.rule for finding in findings_of(plan, "L19")] == told


def test_each_tier_is_told_how_full_it_is():
    tiers = (Tier(0, 140, 0), Tier(140, 320, 45))
    plan = replace(two(100, 150), frame=frame(tiers=tiers))
    used = [(tier.from_, tier.to, tier.used_percent) for tier in compute_layout(plan).tiers]
    each = 100 * 73 * 130
    assert used == [(0, 140, round(each / (600 * 140), 1)), (140, 320, round(each / (600 * 180), 1))]


def test_one_flat_tier_is_what_is_not_free():
    section = compute_layout(two(100))
    assert section.tiers[0].used_percent == pytest.approx(100 - section.free_percent)


def test_the_centre_of_mass_is_that_of_all_parts():
    # 3000 g at (300, 160), 1000 g at (50, 50): (237.5, 132.5), rounded half up.
    heavy = pedal("P1", at=(0, 0), weight=1000, **(PLAIN | {"width": 100, "depth": 100}))
    assert compute_layout(board(heavy)).centre_of_mass == Point(238, 133)


@pytest.mark.parametrize("lost", [{"weight": None}, {"place": None}])
def test_the_centre_of_mass_is_unknown_with_one_part_unknown(lost):
    assert compute_layout(board(replace(pedal("P1", at=(0, 0), **PLAIN), **lost))).centre_of_mass is None


@pytest.mark.parametrize(("grams", "told"), [(1000, False), (1001, True)])
def test_weight_far_off_the_middle_is_advised(grams, told):
    # Frame 1000 g at x = 300, pedal at x = 180: with equal masses 60 mm off, which is 10 % of 600.
    plan = board(
        pedal("P1", at=(170, 0), weight=grams, **(PLAIN | {"width": 20})),
        frame=Frame(600, 320, weight=1000, lid=200),
    )
    assert bool(findings_of(plan, "L20")) is told


def test_messages_name_both_things_with_name_and_ref():
    named = two(72, name="Slow Tide")
    (finding,) = findings_of(named, "L03")
    assert finding.message.startswith("P1 and Slow Tide (P2) overlap by 1 mm")
