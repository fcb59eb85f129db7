"""What is free under the closed lid: the figures that findings L13, L14 and the side view share."""

import pytest

from boardshop.core.layout import compute_layout
from boardshop.core.layout.heights import least_lid_room, lid_spare, toe_spare
from boardshop.core.layout.standing import list_bodies
from boardshop.core.plan import Pedal, Tier
from tests.core import builders as b


def spare_of(pedal: Pedal, **frame: object) -> int | None:
    plan = b.board(pedal, frame=b.frame(**frame))
    return lid_spare(list_bodies(plan)[0], plan.frame)


@pytest.mark.parametrize(("lid", "spare"), [(56, 1), (55, 0), (54, -1)])
def test_the_lid_less_the_pedal(lid: int, spare: int) -> None:
    assert spare_of(b.pedal("P1", at=(0, 0)), lid=lid) == spare


def test_a_tier_takes_its_height() -> None:
    assert spare_of(b.pedal("P1", at=(0, 0)), lid=120, tiers=(Tier(0, 320, 40),)) == 25


@pytest.mark.parametrize("unknown", [{"height": None}, {}])
def test_what_is_not_recorded_is_not_reckoned(unknown: dict[str, None]) -> None:
    pedal = b.pedal("P1", at=(0, 0), **unknown)
    assert spare_of(pedal, lid=120 if unknown else None) is None


def test_a_toe_counts_for_a_treadle_alone() -> None:
    treadle = b.pedal("P1", "wah", at=(0, 0), treadle=True, toe_height=118)
    other = b.pedal("P2", at=(100, 0), treadle=False, toe_height=118)
    plan = b.board(treadle, other)
    assert [toe_spare(body, plan.frame) for body in list_bodies(plan)] == [2, None]


def test_the_least_is_found_over_bodies_and_toes() -> None:
    low = b.pedal("P1", at=(0, 0), height=110)
    treadle = b.pedal("P2", "wah", at=(100, 0), treadle=True, height=80, toe_height=115)
    least = least_lid_room(b.board(low, treadle))
    assert (least.body.ref, least.spare, least.is_toe, least.top) == ("P2", 5, True, 115)


def test_nothing_known_has_no_least() -> None:
    assert least_lid_room(b.board(b.pedal("P1", at=(0, 0), height=None))) is None
    assert least_lid_room(b.board(b.pedal("P1", at=(0, 0)), frame=b.frame(lid=None))) is None


@pytest.mark.parametrize(("height", "said"), [(110, ""), (111, "leaves 9 mm"), (121, "1 mm more than")])
def test_the_findings_say_the_same_figure(height: int, said: str) -> None:
    plan = b.board(b.pedal("P1", at=(0, 0), height=height))
    spare = lid_spare(list_bodies(plan)[0], plan.frame)
    messages = [one.message for one in compute_layout(plan).findings if one.rule in ("L13", "L14")]
    assert spare == 120 - height
    assert (messages == []) if not said else any(said in message for message in messages)
