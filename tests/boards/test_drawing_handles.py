"""The drawing says where its things lie in mm, so that a script can move them about."""

from tests.boards.test_drawing import SVG, TURNED, crowded, drawn, numbers_of
from tests.core import builders as b


def test_a_body_that_is_a_link_carries_where_it_lies_as_it_is_turned() -> None:
    # b.pedal is 73 x 130; a quarter turn lays it 130 wide and 73 deep.
    root = drawn(b.board(TURNED), url=lambda ref: f"#{ref}")
    (link,) = [one for one in root.iter(f"{SVG}a") if one.get("data-ref") == "P4"]
    assert numbers_of(link, "data-x", "data-y", "data-w", "data-d", "data-turn") == (300, 170, 130, 73, 90)


def test_the_drawing_says_where_the_frames_front_left_corner_lies() -> None:
    root = drawn(crowded())
    frame = next(r for r in root.iter(f"{SVG}rect") if r.get("class") == "d-frame")
    x, y, depth = numbers_of(frame, "x", "y", "height")
    assert numbers_of(root, "data-origin-x", "data-origin-y") == (x, round(y + depth, 2))
    assert root.get("data-mm-per-unit") == "1"
