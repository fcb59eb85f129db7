"""Where a run under the frame goes down, against every millimetre tried."""

import random

import pytest

from boardshop.core.cables.drops import find_opening, list_drops, list_openings
from boardshop.core.layout.geometry import Box
from boardshop.core.plan import BoardPlan, Member, Rail
from tests.core.builders import cable_type, frame
from tests.core.cable_boards import findings_of, pair

RAILS = (Rail(0, 90), Rail(110, 180), Rail(200, 320))


def slotted(*rails: Rail, **values: object) -> BoardPlan:
    """W1 under the frame from (286, 186) to (187, 186)."""
    parts = {key: values.pop(key) for key in ("members", "keepouts") if key in values}
    return pair(route="under", frame=frame(surface="slotted", rails=rails, **parts), **values)


@pytest.mark.parametrize(
    ("rails", "openings"),
    [
        ((), ()),
        ((Rail(20, 90), Rail(110, 180)), ((0, 20), (90, 110), (180, 320))),
        ((Rail(110, 180), Rail(0, 115)), ((180, 320),)),
        ((Rail(0, 320),), ()),
        ((Rail(0, 160), Rail(150, 400)), ()),
    ],
)
def test_openings_are_what_no_rail_covers(rails: tuple[Rail, ...], openings: tuple) -> None:
    assert list_openings(frame(surface="slotted", rails=rails)) == openings


def test_a_closed_top_has_none_and_nothing_is_said_of_it() -> None:
    assert list_openings(frame(surface="flat", rails=RAILS)) == ()
    assert list_drops(pair(route="under", frame=frame(surface="flat", rails=RAILS))) == ()


def test_rails_that_nobody_recorded_say_nothing() -> None:
    assert list_drops(slotted()) == ()
    assert findings_of(slotted(), "C19") == findings_of(slotted(), "C20") == []


def test_a_plug_over_a_gap_goes_down_where_it_is() -> None:
    (run,) = list_drops(slotted(*RAILS))
    assert [(drop.jack, drop.at, drop.away_mm) for drop in run.drops] == [
        ("P1.OUT", (286, 186), 0),
        ("P2.IN", (187, 186), 0),
    ]


def test_a_plug_over_a_rail_goes_to_the_nearest_gap() -> None:
    (run,) = list_drops(slotted(Rail(0, 150), Rail(160, 320)))
    assert [(drop.at, drop.away_mm) for drop in run.drops] == [((286, 160), 26), ((187, 160), 26)]


def test_beside_what_covers_the_gap() -> None:
    """A bracket from x 280 on under the whole gap: the nearest free spot is at its left edge."""
    bracket = Member(280, 140, 200, 40, "bracket")
    (run,) = list_drops(slotted(Rail(0, 150), Rail(160, 320), members=(bracket,)))
    assert (run.drops[0].at, run.drops[0].away_mm) == ((280, 160), 6 + 26)


def test_an_opening_is_as_wide_as_the_cable_at_least() -> None:
    narrow = (Rail(0, 184), Rail(188, 320))
    thin, thick = ((cable_type(diameter=mm),) for mm in (4.0, 4.1))
    assert findings_of(slotted(*narrow, cables=thin), "C19") == []
    assert [f.severity for f in findings_of(slotted(*narrow, cables=thick), "C19")] == ["fault"]


def test_no_opening_at_all_is_a_fault_that_names_both_ends() -> None:
    (found,) = findings_of(slotted(Rail(0, 320)), "C19")
    assert (found.severity, found.subjects) == ("fault", ("W1",))
    assert "P1.OUT and P2.IN" in found.message


@pytest.mark.parametrize(("rail_from", "short"), [(136, None), (135, 2), (100, 72)])
def test_an_opening_farther_away_than_a_pass_is_a_caution(rail_from: int, short: int | None) -> None:
    """The plugs stand at y 186, and 50 mm are counted for each pass."""
    found = findings_of(slotted(Rail(rail_from, 320)), "C20")
    assert [f.severity for f in found] == ([] if short is None else ["caution"])
    assert all(f"{short} mm too short" in f.message for f in found)


def test_drops_leave_the_length_of_the_run_alone() -> None:
    from tests.core.cable_boards import run_of

    far, near = slotted(Rail(50, 320)), slotted(*RAILS)
    assert run_of(far).path_mm == run_of(near).path_mm == 99 + 2 * 50


@pytest.mark.parametrize("number", range(200))
def test_the_nearest_opening_is_that_of_every_millimetre_tried(number: int) -> None:
    chance = random.Random(number)
    width, depth = 40, 30
    edges = sorted(chance.sample(range(depth + 1), 4))
    bands = [(edges[0], edges[1]), (edges[2], edges[3])][: chance.randint(0, 2)]
    boxes = []
    for _ in range(chance.randint(0, 5)):
        x, y = chance.randint(-5, width), chance.randint(-5, depth)
        boxes.append(Box(x, y, x + chance.randint(1, 25), y + chance.randint(1, 25)))
    end = chance.randint(-4, width + 4), chance.randint(-4, depth + 4)
    free = [
        (abs(x - end[0]) + abs(y - end[1]), (x, y))
        for x in range(width + 1)
        for y in range(depth + 1)
        if any(low <= y <= high for low, high in bands)
        and not any(b.x0 < x < b.x1 and b.y0 < y < b.y1 for b in boxes)
    ]
    assert find_opening(width, bands, boxes, end) == (min(free)[1] if free else None)
