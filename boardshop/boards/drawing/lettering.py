"""How wide lettering is in the bundled type, and how a name is made to fit: wrapped, smaller, or cut short.

Widths are advances read from the font files themselves, without kerning.
A letter that the type does not have is taken as one em wide.
"""

import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from fontTools.ttLib import TTFont

FONTS = Path(__file__).resolve().parents[3] / "static" / "fonts"
NEXT, MONO = "Atkinson Hyperlegible Next", "Atkinson Hyperlegible Mono"
FAMILIES = {
    "next": f"{NEXT}, {NEXT} Ext, system-ui, DejaVu Sans, sans-serif",
    "mono": f"{MONO}, {MONO} Ext, ui-monospace, DejaVu Sans Mono, monospace",
}
ASCENT = 0.74
"""From the baseline to the top of an ascender, in em: what a line needs above its baseline."""
DESCENT = 0.24
LEADING = 1.12
"""Distance between baselines, in em."""
STEPS = 6
"""Sizes tried between the wanted and the least one."""
ELLIPSIS = "…"


@dataclass(frozen=True, slots=True)
class Face:
    family: str
    weight: int


@dataclass(frozen=True, slots=True)
class Lettering:
    """Lines that fit, their type size, and whether something had to be left out."""

    lines: tuple[str, ...]
    size: float
    is_cut: bool = False

    @property
    def height(self) -> float:
        return self.size * (ASCENT + DESCENT + LEADING * (len(self.lines) - 1))

    def width(self, face: Face) -> float:
        return max((measure(line, self.size, face) for line in self.lines), default=0)


@lru_cache(maxsize=8)
def read_advances(face: Face) -> dict[int, float]:
    """Code point -> advance in em, from the latin and latin-ext files of the face."""
    advances: dict[int, float] = {}
    for subset in ("latin-ext", "latin"):
        font = TTFont(FONTS / f"atkinson-{face.family}-{subset}-{face.weight}.woff2")
        em = font["head"].unitsPerEm
        widths = font["hmtx"].metrics
        advances |= {code: widths[glyph][0] / em for code, glyph in font.getBestCmap().items()}
    return advances


def measure(text: str, size: float, face: Face) -> float:
    """The width of one line of text at that type size, in the size's unit."""
    return size * _width_in_em(text, face)


@lru_cache(maxsize=4096)
def _width_in_em(text: str, face: Face) -> float:
    """Kept, since a drawing tries the same words at several sizes, and the next drawing has them again."""
    advances = read_advances(face)
    return sum(advances.get(ord(letter), _unknown_advance(letter)) for letter in text)


def fit(text: str, face: Face, size: float, least: float, width: float, height: float) -> Lettering:
    """The text within width x height: wrapped at spaces, as large as it goes, at the least size cut short.

    Nothing fits into no room: then there are no lines.
    """
    words = text.split()
    for step in range(STEPS + 1):
        tried = size - (size - least) * step / STEPS
        lines = _wrap(words, face, tried, width)
        if lines is not None and Lettering(lines, tried).height <= height:
            return Lettering(lines, tried)
    return _cut(words, face, least, width, height)


def _wrap(words: Sequence[str], face: Face, size: float, width: float) -> tuple[str, ...] | None:
    lines: list[str] = []
    for word in words:
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and measure(longer, size, face) <= width:
            lines[-1] = longer
        elif measure(word, size, face) <= width:
            lines.append(word)
        else:
            return None
    return tuple(lines)


def _cut(words: Sequence[str], face: Face, size: float, width: float, height: float) -> Lettering:
    room = int((height / size - ASCENT - DESCENT) / LEADING + 1e-9) + 1 if height >= size else 0
    lines: list[str] = []
    rest = list(words)
    while rest and len(lines) < room:
        line = rest.pop(0)
        while rest and measure(f"{line} {rest[0]}", size, face) <= width:
            line = f"{line} {rest.pop(0)}"
        is_last = bool(rest) and len(lines) == room - 1
        lines.append(_shorten(line, face, size, width, is_last))
    kept = tuple(line for line in lines if line)
    return Lettering(kept, size, is_cut=" ".join(kept) != " ".join(words))


def _shorten(line: str, face: Face, size: float, width: float, more_follows: bool) -> str:
    if not more_follows and measure(line, size, face) <= width:
        return line
    kept = line
    while kept and measure(kept + ELLIPSIS, size, face) > width:
        kept = kept[:-1].rstrip()
    return kept + ELLIPSIS if kept else ""


def _unknown_advance(letter: str) -> float:
    return 0.0 if unicodedata.combining(letter) else 1.0
