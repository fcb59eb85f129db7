"""Supplies under the frame; basis: the board-file format and a worked example."""

import pytest

from boardshop.core.plan import Member, Under
from tests.core.builders import board, frame, supply, under_frame
from tests.core.layout_boards import findings_of


def test_worked_example_a_supply_under_a_sloping_frame():
    """Front 18 mm, 8 degrees, supply 38 high + 3, 90 deep: from y = 163.7 on; 240 deep is not enough."""
    slope = 0.14054083470239145  # tan 8 degrees
    for depth, front, y, fits in [
        (320, 18, 164, True), (320, 18, 163, False), (320, 18, 230, True), (240, 18, 150, False),
        (240, 19.92, 150, True), (240, 19.9, 150, False),
    ]:  # fmt: skip
        under = Under(front, front + depth * slope)
        unit = under_frame(supply(depth=90, height=38), 100, y)
        found = findings_of(board(frame=frame(600, depth, under=under), supplies=[unit]), "L15")
        assert [finding.severity for finding in found] == ([] if fits else ["fault"])


def test_the_cure_says_from_where_on_it_fits():
    under = Under(18, 18 + 320 * 0.14054083470239145)
    unit = under_frame(supply(depth=90, height=38), 100, 100)
    (finding,) = findings_of(board(frame=frame(under=under), supplies=[unit]), "L15")
    assert "163.7 mm" in finding.cure
    assert "needs 41 mm" in finding.message


def test_the_cure_says_by_how_much_the_frame_must_rise_where_its_depth_is_too_little():
    """The worked example at a depth of 240: the front must rise from 18 to 19.92, by 2 mm."""
    under = Under(18, 18 + 240 * 0.14054083470239145)
    unit = under_frame(supply(depth=90, height=38), 100, 150)
    (finding,) = findings_of(board(frame=frame(600, 240, under=under), supplies=[unit]), "L15")
    assert "Raise the frame by 2 mm, at the front edge from 18 to 19.92 mm" in finding.cure
    assert "2 mm short" in finding.message


@pytest.mark.parametrize(
    ("under", "cure"),
    [
        (Under(40, 40), "Raise the frame by 1 mm, to 41 mm."),
        (Under(50, 18), "Move its rear edge to 230 mm from the frame's rear edge or further forward."),
        (Under(42, 10), "Raise the frame by 8 mm, at the rear edge from 10 to 18 mm"),
        (Under(10, 42), "Raise the frame by 8 mm, at the front edge from 10 to 18 mm"),
    ],
)
def test_the_cure_fits_the_slope(under, cure):
    """320 deep, 1 mm in 10; 41 needed over 90: 33 at the near end of the last 90."""
    unit = under_frame(supply(depth=90, height=38), 100, 115)
    (finding,) = findings_of(board(frame=frame(under=under), supplies=[unit]), "L15")
    assert finding.cure.startswith(cure)


@pytest.mark.parametrize(("rear", "fits"), [(41, True), (40.9, False)])
def test_a_frame_that_falls_to_the_rear_is_judged_at_the_rear(rear, fits):
    unit = under_frame(supply(depth=90, height=38), 100, 230)
    plan = board(frame=frame(under=Under(60, rear)), supplies=[unit])
    assert (findings_of(plan, "L15") == []) is fits


def test_supplies_under_the_frame_lie_inside_it_and_apart():
    units = [
        under_frame(supply("S1"), 0, 0),
        under_frame(supply("S2"), 159, 89, 90),
        under_frame(supply("S3"), 500, 0),
    ]
    found = findings_of(board(frame=frame(under=Under(60, 60)), supplies=units), "L01", "L16")
    assert [(finding.rule, finding.subjects) for finding in found] == [
        ("L01", ("S3",)),
        ("L16", ("S1", "S2")),
    ]


@pytest.mark.parametrize(("y", "overlap"), [(169, 1), (170, None), (60, None), (61, 1)])
def test_a_supply_keeps_clear_of_the_frames_own_parts(y, overlap):
    """A crossbar from 150 to 170; the supply is 90 deep."""
    crossbar = frame(members=(Member(0, 150, 600, 20, "crossbar"),))
    found = findings_of(board(frame=crossbar, supplies=[under_frame(supply(), 100, y)]), "L48")
    assert [(f.severity, f.subjects) for f in found] == ([("fault", ("S1", "member 1"))] if overlap else [])
    assert all(f"by {overlap} mm" in f.message and "crossbar" in f.message for f in found)
