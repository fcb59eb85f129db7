"""Every pair of ink and ground that the style sheets can bring together is legible in every theme.

Contrast as in WCAG 2.2, success criterion 1.4.3: 4.5:1 for text, 3:1 for what tells parts of a page apart
(1.4.11); on a dark stage the project asks for 7:1, the value of criterion 1.4.6.
"""

import re
from itertools import product
from pathlib import Path

import pytest
import tinycss2

from boardshop.boards.drawing import pens
from tests.house.tree import ROOT

SHEETS = sorted((ROOT / "static" / "css").glob("*.css"))
TOKENS = ROOT / "static" / "css" / "tokens.css"
THEMES = ("light", "dark", "night")
LEAST = {"light": 4.5, "dark": 4.5, "night": 7.0}
INKS = ("color", "fill")
GROUNDS = ("background", "background-color")
SURFACES = {"--bench", "--paper", "--tint"}
"""Grounds that hold further things; any other is set together with the ink that stands on it."""


def contrast(one: str, other: str) -> float:
    """(L1 + 0.05) / (L2 + 0.05) of two #rrggbb colours."""
    lighter, darker = sorted((luminance(one), luminance(other)), reverse=True)
    return (lighter + 0.05) / (darker + 0.05)


def luminance(colour: str) -> float:
    channels = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def rules(text: str, media: str = "") -> list[tuple[str, str, dict[str, str]]]:
    """(media, selector, declarations) of every rule, those inside @media too."""
    found = []
    for node in tinycss2.parse_stylesheet(text, skip_comments=True, skip_whitespace=True):
        if node.type == "at-rule" and node.lower_at_keyword == "media":
            found += rules(tinycss2.serialize(node.content), tinycss2.serialize(node.prelude).strip())
        elif node.type == "qualified-rule":
            parts = tinycss2.parse_blocks_contents(node.content, skip_comments=True, skip_whitespace=True)
            values = {p.name: tinycss2.serialize(p.value).strip() for p in parts if p.type == "declaration"}
            found.append((media, tinycss2.serialize(node.prelude).strip(), values))
    return found


def tokens(selector: str, media: str = "") -> dict[str, str]:
    kept: dict[str, str] = {}
    for found_media, found_selector, values in rules(TOKENS.read_text()):
        if found_media == media and selector in [part.strip() for part in found_selector.split(",")]:
            kept |= {name: value for name, value in values.items() if value.startswith("#")}
    return kept


def used(values: dict[str, str], names: tuple[str, ...]) -> str | None:
    """The token that one of these properties takes, if any."""
    for name in names:
        token = re.fullmatch(r"var\((--[\w-]+)\)", values.get(name, ""))
        if token:
            return token[1]
    return None


def pairs() -> set[tuple[str, str]]:
    """Ink and ground: those of one rule together; an ink without a ground of its own on every surface."""
    found, inks, grounds = set(), set(), set(SURFACES)
    for sheet in SHEETS:
        for _, selector, values in rules(sheet.read_text()):
            ink, ground = used(values, INKS), used(values, GROUNDS)
            is_shape = "fill" in values and not re.search(r"d-(name|number|ref|measure|note)", selector)
            if ink and ground:
                found.add((ink, ground))
            elif ink and not is_shape:
                inks.add(ink)
            elif ground:
                grounds.add(ground)
    return found | set(product(inks, grounds))


def test_the_formula_gives_the_published_values() -> None:
    # Black on white is 21:1 by definition (WCAG 2.2); #767676 on white is W3C's own borderline example.
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.005)
    assert contrast("#777777", "#ffffff") < 4.5


def test_the_sheets_bring_many_pairs_together() -> None:
    # So that a change of the parser cannot leave the next test without anything to check.
    known = {("--ink", "--paper"), ("--ink-2", "--bench"), ("--paper", "--blue"), ("--danger", "--tint")}
    assert known <= pairs()


@pytest.mark.parametrize("theme", THEMES)
def test_every_text_pair_is_legible(theme: str) -> None:
    colours = tokens(f'[data-theme="{theme}"]')
    seen = {(ink, ground): contrast(colours[ink], colours[ground]) for ink, ground in pairs()}
    assert {pair: round(ratio, 2) for pair, ratio in seen.items() if ratio < LEAST[theme]} == {}


@pytest.mark.parametrize("theme", THEMES)
def test_fields_and_marks_stand_out(theme: str) -> None:
    """Borders of inputs and lines of drawings take an ink, the focus ring blue, marks their severity's."""
    colours = tokens(f'[data-theme="{theme}"]')
    lines = ("--ink", "--ink-2", "--blue", "--danger", "--caution")
    assert all(contrast(colours[line], colours[ground]) >= 3 for line, ground in product(lines, SURFACES))


def test_auto_follows_the_device_with_the_same_inks() -> None:
    assert tokens('[data-theme="auto"]', "(prefers-color-scheme: dark)") == tokens('[data-theme="dark"]')
    assert tokens(":root") == tokens('[data-theme="light"]')


def test_every_theme_names_every_colour() -> None:
    names = set(tokens(":root"))
    assert all(set(tokens(f'[data-theme="{theme}"]')) == names for theme in THEMES)


def literals(sheet: Path) -> set[str]:
    """Every colour written down in a sheet, as #rrggbb."""
    text = re.sub(r"/\*.*?\*/", "", sheet.read_text(), flags=re.DOTALL)
    found = re.findall(r"#[0-9a-f]{3,8}\b|\b(?:rgb|hsl|oklch|color-mix)a?\(", text.lower())
    return {"#" + "".join(2 * c for c in colour[1:]) if len(colour) == 4 else colour for colour in found}


@pytest.mark.parametrize("sheet", SHEETS, ids=lambda sheet: sheet.name)
def test_colours_are_written_down_in_one_place(sheet: Path) -> None:
    """Papers repeat the light inks, as the margin boxes of a page know no custom properties."""
    allowed = {"papers.css": set(tokens(":root").values()), "tokens.css": literals(TOKENS)}
    assert literals(sheet) <= allowed.get(sheet.name, set())


def test_the_drawing_prints_in_the_light_inks() -> None:
    light = tokens(":root")
    printed = {"--ink": pens.INK, "--ink-2": pens.SECOND_INK, "--rule": pens.RULE, "--paper": pens.PAPER}
    printed |= {"--blue": pens.BLUE, "--tint": pens.SLOT_TINT}
    assert printed.items() <= light.items()
