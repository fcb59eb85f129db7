"""Lengths drawn to scale: pieces one after the other, what is left, and a break where it is far longer."""

import re
from xml.etree import ElementTree

from boardshop.boards.drawing.cut_lengths import LEFT, RIGHT, WIDTH, DrawnLength, draw_lengths

SVG = "{http://www.w3.org/2000/svg}"


def length(name: str = "R1", mm: int = 1000, *pieces: int, **facts: int) -> DrawnLength:
    named = tuple((f"W{n}", piece) for n, piece in enumerate(pieces, start=1))
    return DrawnLength(
        name, "reel", mm, facts.get("trim", 0), named, facts.get("kerf", 0), facts.get("kept", 0)
    )


def boxes(svg: str) -> list[tuple[str, float, float]]:
    """Hint, x and width of everything that has a hint."""
    found = []
    for one in ElementTree.fromstring(svg).iter(f"{SVG}g"):
        title, rect = one.find(f"{SVG}title"), one.find(f"{SVG}rect")
        if title is not None and rect is not None:
            found.append((title.text or "", float(rect.get("x", 0)), float(rect.get("width", 0))))
    return found


def test_nothing_is_drawn_of_nothing() -> None:
    assert draw_lengths([]) == ""


def test_all_lengths_have_one_scale() -> None:
    found = boxes(draw_lengths([length("A", 500, 200, 100), length("B", 600, 400)]))
    scale = (WIDTH - LEFT - RIGHT) / (400 * 1.18)
    widths = {hint: round(width / scale) for hint, _x, width in found if hint.startswith("W")}
    assert widths == {"W1, 200 mm": 200, "W2, 100 mm": 100, "W1, 400 mm": 400}


def test_pieces_lie_one_after_the_other_behind_the_trim() -> None:
    (trim, first, second, rest) = boxes(draw_lengths([length("A", 500, 200, 100, trim=10, kerf=2, kept=186)]))
    scale = (WIDTH - LEFT - RIGHT) / ((10 + 202 + 102) * 1.18)
    assert [one[0] for one in (trim, first, second, rest)] == [
        "trim",
        "W1, 200 mm",
        "W2, 100 mm",
        "kept 186 mm",
    ]
    assert round(first[1], 1) == round(LEFT + 10 * scale, 1)
    assert round(second[1], 1) == round(LEFT + 212 * scale, 1)


def test_a_long_rest_is_broken_off_at_the_edge() -> None:
    svg = draw_lengths([length("R1", 20_000, 200, kept=19_798)])
    rest = boxes(svg)[-1]
    assert round(rest[1] + rest[2], 1) == WIDTH - RIGHT
    assert "kept 19798 mm" in svg
    assert svg.count('class="d-dimension"') == 1
    assert 'class="d-dimension"' not in draw_lengths([length("A", 230, 200)])


def test_lengths_are_in_the_shops_unit() -> None:
    svg = draw_lengths([length("R1", 1000, 200)], "in")
    assert "7.87 in" in svg
    assert not re.search(r"\d mm", svg)


def test_names_are_escaped() -> None:
    assert "<b>" not in draw_lengths([length("<b>", 500, 200)])


def test_many_pieces_go_on_in_the_next_row() -> None:
    """900 mm stand in one row: four of 200, and the other four below with the rest."""
    svg = draw_lengths([length("R1", 5000, *[200] * 8, kept=3400)])
    found = boxes(svg)
    starts = [x for _hint, x, _width in found[:-1]]
    assert starts.count(LEFT) == 2
    assert svg.count("goes on below") == 1
    assert len([1 for hint, _x, _width in found if hint.startswith("W")]) == 8


def test_a_piece_longer_than_a_row_stands_whole() -> None:
    (piece, _rest) = boxes(draw_lengths([length("R1", 10_000, 6000, kept=4000)]))
    assert round(piece[2], 1) == round((WIDTH - LEFT - RIGHT) / 1.18, 1)
