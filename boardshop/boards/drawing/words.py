"""Lettering on the drawing: one line or several, and the best of several spots for a label."""

from collections.abc import Iterable

from boardshop.boards.drawing.lettering import ASCENT, DESCENT, FAMILIES, LEADING, Lettering, fit, measure
from boardshop.boards.drawing.pens import KNOCKOUT, Letter
from boardshop.boards.drawing.shapes import Area, Attributes, Shape, around, rectangle

type Obstacle = tuple[Area, float]
"""What a label should not cover, and how much that matters."""


def write(letter: Letter, size: float, words: str, x: float, y: float, anchor: str = "middle") -> Shape:
    """One line with its baseline at y; nothing but attributes, so that it reads the same on paper."""
    return Shape(
        "text", (*letter_look(letter, size), ("x", x), ("y", y), ("text-anchor", anchor)), text=words
    )


def write_upwards(letter: Letter, size: float, words: str, x: float, y: float) -> Shape:
    """One line turned to be read from the right, as dimensions at the left are (ISO 129)."""
    turned = write(letter, size, words, x, y)
    return Shape("text", (*turned.attributes, ("transform", f"rotate(-90 {x:.2f} {y:.2f})")), text=words)


def write_in(area: Area, letter: Letter, lettering: Lettering, full: str, backed: bool = True) -> list[Shape]:
    """Lines centred in an area, on a paper-coloured ground that interrupts lines beneath."""
    x, middle = area.middle
    size = lettering.size
    baseline = middle - lettering.height / 2 + ASCENT * size
    shapes = []
    if backed and lettering.lines:
        ground = around(x, middle, lettering.width(letter.face) + 0.5 * size, lettering.height)
        shapes.append(rectangle(ground, KNOCKOUT.look(0)))
    for row, line in enumerate(lettering.lines):
        shapes.append(write(letter, size, line, x, baseline + row * LEADING * size))
    if lettering.is_cut and shapes:
        shapes = [Shape("g", (), (Shape("title", text=full), *shapes))]
    return shapes


def fit_letter(words: str, letter: Letter, unit: float, width: float, height: float) -> Lettering:
    return fit(words, letter.face, letter.height * unit, letter.least * unit, width, height)


def text_area(words: str, letter: Letter, unit: float, x: float, y: float) -> Area:
    """The area of one line centred on (x, y)."""
    size = letter.height * unit
    return around(x, y, measure(words, size, letter.face), size * (ASCENT + DESCENT))


def letter_look(letter: Letter, size: float) -> Attributes:
    return (
        ("class", letter.name),
        ("font-family", FAMILIES[letter.face.family]),
        ("font-size", size),
        ("font-weight", letter.face.weight),
        ("fill", letter.fill),
    )


def obstacles_in(reach: Area, obstacles: Iterable[Obstacle]) -> list[Obstacle]:
    """Those that a label can cover whose spots all lie within reach; the others change nothing."""
    return [obstacle for obstacle in obstacles if obstacle[0].shared(reach)]


def best_spot(spots: Iterable[Area], obstacles: Iterable[Obstacle]) -> Area:
    """The spot that covers least of what matters, the first of equals; a free one ends the search.

    `spots` may be made one by one as they are asked for: most searches end within a few.
    """
    taken = tuple(obstacles)
    found: tuple[float, Area] | None = None
    for spot in spots:
        covered = sum([spot.shared(area) * weight for area, weight in taken])
        if found is None or covered < found[0]:
            found = covered, spot
        if not covered:
            break
    assert found is not None, "no spots"
    return found[1]
