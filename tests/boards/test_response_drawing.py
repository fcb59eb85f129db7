"""The drawing of a response, and the bar of what hangs on a driver: read back from their SVG."""

import re
from itertools import pairwise
from typing import Any
from xml.etree import ElementTree

import pytest

from boardshop.boards.drawing.response import LabelledCurve, draw_key, draw_response, pick_pens
from boardshop.boards.drawing.response_axes import HEIGHT, PLOT, WIDTH, Axes
from boardshop.boards.drawing.response_bar import LEAST_SCALE_PF, LEFT, RIGHT, draw_additions, pick_scale
from boardshop.boards.pages.tone_response import draw_plot, label_curves
from boardshop.core.plan import Scene
from boardshop.core.tone.comparing import log_frequencies, plot_responses
from boardshop.core.tone.segments import INPUT, LEAD, PATCH, UNDECIDED, WIRING, Addition
from tests.core.builders import pedal
from tests.core.tone_boards import BYPASSED, wired

FREQUENCIES = log_frequencies(301)
SVG = "{http://www.w3.org/2000/svg}"


def read(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def draw(curves: list[LabelledCurve]) -> ElementTree.Element:
    return read(draw_response(FREQUENCIES, curves, title="Response of G1", words="a, b", name="r-G1"))


def texts(root: ElementTree.Element) -> list[str]:
    return [one.text or "" for one in root.iter(f"{SVG}text")]


def lines_of(root: ElementTree.Element) -> list[list[tuple[float, float]]]:
    """The points of every curve's lines."""
    groups = [one for one in root.iter(f"{SVG}g") if one.get("class") == "d-curve"]
    paths = [path.get("d", "") for one in groups for path in one.iter(f"{SVG}path")]
    return [[(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", path)] for path in paths]


def flat(db: float, label: str = "A", **options: Any) -> LabelledCurve:
    return LabelledCurve(label, "flat", [db] * len(FREQUENCIES), **options)


def test_the_axes_have_ticks_and_units() -> None:
    said = texts(draw([flat(-20)]))
    assert [hz for hz in said if hz.isdigit() and int(hz) >= 100] == [
        "100",
        "200",
        "500",
        "1000",
        "2000",
        "3000",
        "5000",
        "10000",
        "20000",
    ]
    assert {"frequency, Hz", "dB, relative to 100 Hz", "+6", "0", "−6", "−24"} <= set(said)


def test_frequencies_lie_on_a_logarithmic_axis() -> None:
    axes = Axes.around(FREQUENCIES, [[0.0] * 301])
    assert (axes.x(100), axes.x(20_000)) == pytest.approx((PLOT.x, PLOT.right))
    steps = [axes.x(hz) for hz in (100, 1000, 10_000)]
    assert steps[1] - steps[0] == pytest.approx(steps[2] - steps[1])


@pytest.mark.parametrize(
    ("levels", "bottom", "top"),
    [([0, 0], -6, 6), ([5.9, -13], -18, 6), ([6.1, -90], -36, 12), ([17.9, -36], -36, 18)],
)
def test_the_levels_shown_are_whole_steps_around_the_curves(
    levels: list[float], bottom: int, top: int
) -> None:
    axes = Axes.around((100, 20_000), [levels])
    assert (axes.bottom_db, axes.top_db) == (bottom, top)


def test_a_curve_runs_through_its_levels() -> None:
    plan = wired(*BYPASSED)
    curve = plot_responses(plan, plan.sources[0]).curves[0]
    root = draw([LabelledCurve("A", "a", curve.db)])
    axes = Axes.around(FREQUENCIES, [curve.db])
    (line,) = lines_of(root)
    for (x, y), hz, db in zip(line[:200], FREQUENCIES, curve.db, strict=False):
        assert (x, y) == pytest.approx((axes.x(hz), axes.y(db)), abs=0.006)


def test_a_curve_ends_where_it_leaves_the_drawing() -> None:
    falling = [-0.25 * at for at in range(301)]  # down to -75 dB, of which -36 are shown
    (line,) = lines_of(draw([LabelledCurve("A", "a", falling)]))
    assert max(y for _, y in line) == pytest.approx(PLOT.bottom, abs=0.01)
    assert line[-1][0] < PLOT.right


def test_a_curve_that_comes_back_is_two_lines() -> None:
    dipping = [-60.0 if 100 < at < 200 else 0.0 for at in range(301)]
    lines = lines_of(draw([LabelledCurve("A", "a", dipping)]))
    assert len(lines) == 2
    assert all(y <= PLOT.bottom + 0.01 for line in lines for _, y in line)


def test_every_curve_bears_its_label_and_no_two_lie_on_each_other() -> None:
    scenes = tuple(Scene(f"s{n}", (f"P{n}",)) for n in range(1, 7))
    plan = wired(*(pedal(f"P{n}") for n in range(1, 9)), scenes=scenes)
    curves = label_curves(plot_responses(plan, plan.sources[0]).curves)
    root = draw(curves)
    placed = [
        (one.text, float(one.get("x", "")), float(one.get("y", "")))
        for one in root.iter(f"{SVG}text")
        if one.text in {curve.label for curve in curves}
    ]
    assert sorted(text or "" for text, *_ in placed) == sorted(curve.label for curve in curves)
    for (_, ax, ay), (_, bx, by) in ((a, b) for i, a in enumerate(placed) for b in placed[i + 1 :]):
        assert abs(ax - bx) > 8 or abs(ay - by) > 8
    assert all(PLOT.x < x < WIDTH and PLOT.y < y < HEIGHT for _, x, y in placed)


def test_curves_are_told_apart_without_colour() -> None:
    curves = [*(flat(-n, label=chr(65 + n)) for n in range(9)), flat(-20, "no cable", is_aside=True)]
    pens = pick_pens([*curves, flat(-21, "500 pF", is_aside=True)])
    looks = [(pen.width, pen.dashes) for pen in pens]
    assert len(set(looks)) == len(looks)
    assert {pen.stroke for pen in pens[:9]} == {"#17212b"}


def test_the_key_shows_the_same_pen_as_the_drawing() -> None:
    plan = wired(*BYPASSED)
    response = draw_plot(plot_responses(plan, plan.sources[0]), title="t", name="n")
    for key, head in zip(response.keys, response.heads, strict=True):
        assert key.label == head
        dashes = re.findall(r'stroke-dasharray="([^"]+)"', key.sample)
        assert all(f'stroke-dasharray="{one}"' in response.drawing for one in dashes)
    assert draw_key(pick_pens([flat(0)])[0], "A").count("<path") == 1


def test_it_is_told_to_those_who_do_not_see_it() -> None:
    root = draw([flat(-1)])
    assert (root.get("role"), root.get("aria-labelledby")) == ("img", "r-G1-title")
    assert [one.text for one in root.findall(f"{SVG}title")] == ["Response of G1"]
    assert [one.text for one in root.findall(f"{SVG}desc")] == ["a, b"]


def test_what_people_wrote_stays_text() -> None:
    curve = LabelledCurve("A", "<script>alert(1)</script>", [0.0] * len(FREQUENCIES))
    assert "<script>" not in draw_response(FREQUENCIES, [curve], title="t", words="w", name="n")


# The bar.

ADDITIONS = (
    Addition("W1", LEAD, 660),
    Addition("P1", WIRING, 20),
    Addition("W2", PATCH, 140),
    Addition("P2", UNDECIDED, None),
    Addition("P3", INPUT, 30),
)


def bar(scale: int = 2000) -> ElementTree.Element:
    return read(draw_additions(ADDITIONS, scale, words="on G1", name="b"))


def test_each_piece_is_as_wide_as_what_it_adds_and_they_lie_end_to_end() -> None:
    pieces = [one for one in bar().iter(f"{SVG}g") if one.get("class") == "d-piece"]
    boxes = [one.find(f"{SVG}rect") for one in pieces]
    spans = [(float(b.get("x", "")), float(b.get("width", ""))) for b in boxes if b is not None]
    widths = [pf / 2000 * (RIGHT - LEFT) for pf in (660, 20, 140, 30)]
    assert [width for _, width in spans] == pytest.approx(widths, abs=0.01)
    for (x, width), (following, _) in pairwise(spans):
        assert x + width == pytest.approx(following, abs=0.01)
    assert [one.get("data-ref") for one in pieces] == ["W1", "P1", "W2", "P3"]


def test_the_ticks_are_where_the_bands_begin() -> None:
    said = texts(bar())
    assert said[-6:] == ["0", "300", "700", "1000", "1500", "2000 pF"]


def test_bars_of_one_instrument_share_a_scale() -> None:
    assert pick_scale([]) == pick_scale([10, 900]) == LEAST_SCALE_PF
    assert pick_scale([1950, 700]) == 2000
    assert pick_scale([2001]) == 2100


def test_narrow_pieces_bear_no_name_that_would_not_fit() -> None:
    small = (Addition("W1", LEAD, 5), Addition("W2", LEAD, 1000))
    said = texts(read(draw_additions(small, 2000, words="x", name="b")))
    assert "W1" not in said
    assert "W2" in said
