"""The tree of shapes a drawing is made of, and its SVG text.

Coordinates are mm of the board with y downwards, as SVG has it; sheet.py turns the player's view into them.
No shape carries a style attribute: the content policy forbids it.  Presentation attributes give the look on
paper, where WeasyPrint applies no style sheet to SVG, and classes let a screen's theme override them.
"""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache, wraps
from typing import Any
from xml.sax.saxutils import escape, quoteattr

from django.utils.translation import get_language

type Value = str | int | float
type Attributes = tuple[tuple[str, Value], ...]

_NOT_XML = re.compile("[^\t\n\r\u0020-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


class _WrittenOnce:
    """A base with a place for an element's text, so that a shape that is drawn again is not written again."""

    __slots__ = ("_svg",)

    _svg: str


@dataclass(frozen=True, slots=True)
class Shape(_WrittenOnce):
    """One SVG element; ``text`` comes before its children."""

    tag: str
    attributes: Attributes = ()
    children: "tuple[Shape, ...]" = ()
    text: str = ""


@dataclass(frozen=True, slots=True)
class Area:
    """An upright rectangle on the drawing, x and y of its upper left corner."""

    x: float
    y: float
    width: float
    height: float

    @property
    def right(self) -> float:
        return self.x + self.width

    @property
    def bottom(self) -> float:
        return self.y + self.height

    @property
    def middle(self) -> tuple[float, float]:
        return self.x + self.width / 2, self.y + self.height / 2

    def shared(self, other: "Area") -> float:
        """The area two rectangles share, 0 where they only touch; most lie apart, which is told first."""
        if other.x >= (right := self.x + self.width) or self.x >= (other_right := other.x + other.width):
            return 0
        if other.y >= (bottom := self.y + self.height) or self.y >= (other_bottom := other.y + other.height):
            return 0
        wide = min(right, other_right) - max(self.x, other.x)
        high = min(bottom, other_bottom) - max(self.y, other.y)
        return wide * high if wide > 0 and high > 0 else 0

    def grown(self, by: float) -> "Area":
        return Area(self.x - by, self.y - by, self.width + 2 * by, self.height + 2 * by)


def drawn_once[*Given, R](most: int) -> Callable[[Callable[[*Given], R]], Callable[[*Given], R]]:
    """What is drawn is kept by all it is drawn of and by the language, so many of them.

    For functions of frozen values that give shapes: most of a board is where it was before an edit.
    """

    def keep(draw: Callable[[*Given], R]) -> Callable[[*Given], R]:
        @lru_cache(maxsize=most)
        def kept(_language: str | None, *given: Any) -> R:
            return draw(*given)

        @wraps(draw)
        def drawn(*given: *Given) -> R:
            return kept(get_language(), *given)

        return drawn

    return keep


def around(x: float, y: float, width: float, height: float) -> Area:
    """The area of that size with its middle at (x, y)."""
    return Area(x - width / 2, y - height / 2, width, height)


def bounds(areas: Sequence[Area]) -> Area:
    """The least area that holds all these."""
    left, upper = min([area.x for area in areas]), min([area.y for area in areas])
    right, bottom = max([area.right for area in areas]), max([area.bottom for area in areas])
    return Area(left, upper, right - left, bottom - upper)


def group(children: "tuple[Shape, ...] | list[Shape]", **attributes: Value) -> Shape:
    return Shape("g", _named(attributes), tuple(children))


def rectangle(area: Area, look: Attributes, **attributes: Value) -> Shape:
    box = (("x", area.x), ("y", area.y), ("width", area.width), ("height", area.height))
    return Shape("rect", (*look, *box, *_named(attributes)))


def circle(x: float, y: float, radius: float, look: Attributes) -> Shape:
    return Shape("circle", (*look, ("cx", x), ("cy", y), ("r", radius)))


def polyline(
    points: "tuple[tuple[float, float], ...] | list[tuple[float, float]]", look: Attributes
) -> Shape:
    return Shape("path", (*look, ("d", "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points))))


def polygon(points: "tuple[tuple[float, float], ...] | list[tuple[float, float]]", look: Attributes) -> Shape:
    path = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points) + "Z"
    return Shape("path", (*look, ("d", path)))


def hint(words: str) -> Shape:
    """The name of what holds it: shown where a pointer rests, read out for a link."""
    return Shape("title", text=words)


def number(value: float) -> str:
    """At most two decimals, no trailing zeros, no negative zero."""
    shown = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if shown == "-0" else shown


def to_svg(shape: Shape) -> str:
    """The text of a shape and all it holds; every word of it escaped, what XML cannot carry replaced."""
    try:
        return shape._svg
    except AttributeError:
        object.__setattr__(shape, "_svg", text := _write(shape))
        return text


def _write(shape: Shape) -> str:
    attributes = "".join([_attribute(name, value) for name, value in shape.attributes])
    inside = "\n".join([to_svg(child) for child in shape.children])
    if shape.text:
        inside = escape(_clean(shape.text)) + inside
    return f"<{shape.tag}{attributes}>{inside}</{shape.tag}>" if inside else f"<{shape.tag}{attributes}/>"


@lru_cache(maxsize=8192)
def _attribute(name: str, value: Value) -> str:
    """Kept, since most attributes of a drawing stand in it many times and in the next one again."""
    return f" {name}={quoteattr(_clean(value) if isinstance(value, str) else number(value))}"


def _clean(words: str) -> str:
    return _NOT_XML.sub("\ufffd", words)


def _named(attributes: dict[str, Value]) -> Attributes:
    """Keyword arguments as attributes: a last underscore falls off, others become hyphens."""
    return tuple((name.rstrip("_").replace("_", "-"), value) for name, value in attributes.items())
