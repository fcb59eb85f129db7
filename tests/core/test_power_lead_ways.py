"""How long a DC lead must be; the lengths are worked by hand on the drawing beside each case.

Slack by the shop's rules: 3 %, at least 10 mm, rounded up to 5 mm.
"""

from dataclasses import replace
from typing import Any

import pytest

from boardshop.core.plan import BoardPlan, DcLead, Feed, Jack, SupplyPlace
from boardshop.core.power.lead_ways import LeadNeed, lead_need
from tests.core import builders as b


def placed(**overrides: Any) -> BoardPlan:
    """A supply 160 x 90 at (200, 230) and P1 73 x 130 at (20, 20): its jack at the rear, (56, 150).

       +-----S1-----+ 320      sides' middles: (200, 275) (360, 275) (280, 230) (280, 320)
       |            |
    J  +------------+ 230      J (56, 150), plug's outer end (56, 165)
    P1
    """
    supply = replace(b.supply("S1"), place=SupplyPlace(200, 230))
    values = {"supplies": (supply,), "feeds": (b.feed("S1.1", "P1.DC"),), "frame": b.frame(900, 400)}
    pedals = overrides.pop("pedals", (b.pedal("P1", at=(20, 20)),))
    return b.board(*pedals, **(values | overrides))


def need_of(plan: BoardPlan, number: int = 0) -> LeadNeed:
    return lead_need(plan, plan.feeds[number])


def test_from_the_middle_of_the_nearest_side_to_the_plugs_outer_end() -> None:
    # |56 - 200| + |165 - 275| = 254; 254 + 10 = 264, rounded up.
    need = need_of(placed())
    assert (need.jack, need.path_mm, need.mm, need.passes_frame) == ("P1.DC", 254, 265, False)
    assert (need.lacks, need.from_face, need.tails) == ((), (), ())


def test_a_supply_under_the_frame_costs_one_pass() -> None:
    under = replace(b.supply("S1"), place=SupplyPlace(200, 230, 0, under=True))
    need = need_of(placed(supplies=(under,)))
    assert (need.path_mm, need.mm, need.passes_frame) == (304, 315, True)


def test_a_long_way_gets_its_percents() -> None:
    # P1 at x 800: |836 - 360| + |165 - 275| = 586; 3 % are 17.58; 603.58, rounded up.
    plan = placed(pedals=(b.pedal("P1", at=(800, 20)),))
    assert (need_of(plan).path_mm, need_of(plan).mm) == (586, 605)


def test_a_turned_supply_has_other_sides() -> None:
    # Turned: 90 wide, 160 deep from (200, 230): middles (200, 310) (290, 310) (245, 230) (245, 390).
    turned = replace(b.supply("S1"), place=SupplyPlace(200, 230, 90))
    assert need_of(placed(supplies=(turned,))).path_mm == min(144 + 145, 234 + 145, 189 + 65, 189 + 225)


def test_half_a_millimetre_is_rounded_up() -> None:
    odd = replace(b.supply("S1", depth=91), place=SupplyPlace(200, 230))
    assert need_of(placed(supplies=(odd,))).path_mm == 255  # left middle (200, 275.5): 144 + 110.5
    odd = replace(b.supply("S1", depth=51), place=SupplyPlace(200, 230))
    assert need_of(placed(supplies=(odd,))).path_mm == 235  # left middle (200, 255.5): 144 + 90.5


@pytest.mark.parametrize("lead", [None, DcLead(), DcLead(plug="J7")])
def test_without_a_plug_the_way_ends_at_the_jacks_face_and_says_so(lead: DcLead | None) -> None:
    plugs = (b.dc_plug_type("J7", reach=None),)
    need = need_of(placed(feeds=(b.feed("S1.1", "P1.DC", lead=lead),), plugs=plugs))
    assert (need.path_mm, need.from_face) == (269, ("P1.DC",))  # |56 - 200| + |150 - 275|


def test_joined_outlets_of_two_supplies_count_the_farther() -> None:
    far = replace(b.supply("S2"), place=SupplyPlace(600, 230))
    plan = placed(
        supplies=(*placed().supplies, far),
        feeds=(b.feed(["S1.1", "S2.1"], "P1.DC", adapters=("series",)),),
    )
    assert need_of(plan).path_mm == 144 + 400 + 110


def chained() -> BoardPlan:
    """P1 at x 20, P2 at x 220, P3 at x 520 on one lead: P2's plug ends at (256, 165)."""
    pedals = tuple(b.pedal(f"P{n}", at=(x, 20)) for n, x in ((1, 20), (2, 220), (3, 520)))
    return placed(pedals=pedals, feeds=(b.feed("S1.1", ["P1.DC", "P2.DC", "P3.DC"]),))


def test_a_chains_trunk_goes_to_the_nearest_jack_and_its_tails_on_from_there() -> None:
    need = need_of(chained())
    # Front middle (280, 230) to (256, 165).
    assert (need.jack, need.path_mm, need.mm) == ("P2.DC", 24 + 65, 100)
    assert [(tail.jack, tail.mm) for tail in need.tails] == [("P1.DC", 210), ("P2.DC", 10), ("P3.DC", 310)]


@pytest.mark.parametrize(
    ("change", "what", "page"),
    [
        ({"supplies": (b.supply("S1"),)}, "the place of S1 on the frame", "layout"),
        (
            {"supplies": (replace(b.supply("S1", width=None), place=SupplyPlace(200, 230)),)},
            "the size of S1",
            "gear",
        ),
        ({"pedals": (b.pedal("P1"),)}, "the place of P1 on the frame", "layout"),
        ({"pedals": (b.pedal("P1", at=(20, 20), jacks=()),)}, "where P1.DC sits on its pedal", "gear"),
        (
            {"pedals": (b.pedal("P1", at=(20, 20), jacks=(Jack("DC", "power", "rear"),)),)},
            "where P1.DC sits on its pedal",
            "gear",
        ),
    ],
)
def test_what_is_missing_is_named_and_nothing_is_guessed(
    change: dict[str, object], what: str, page: str
) -> None:
    need = need_of(placed(**change))
    assert (need.path_mm, need.mm) == (None, None)
    assert [(lack.what, lack.page) for lack in need.lacks] == [(what, page)]


def test_of_a_chain_one_unknown_place_leaves_every_length_open() -> None:
    plan = chained()
    lost = replace(plan, pedals=(*plan.pedals[:2], replace(plan.pedals[2], place=None)))
    need = need_of(lost)
    assert [need.mm, *(tail.mm for tail in need.tails)] == [None, None, None, None]
    assert [lack.what for lack in need.lacks] == ["the place of P3 on the frame"]


def test_refs_are_found_whatever_their_case() -> None:
    plan = placed(feeds=(Feed(("s1.1",), ("p1.dc",), (None,), lead=DcLead(plug="j9")),))
    assert need_of(plan).path_mm == 254
