"""The layout's verdicts against others': painted rasters, a published squared square, a separate program."""

import json
from itertools import product
from pathlib import Path

import numpy as np
import pytest

from boardshop.core.layout import compute_layout
from boardshop.core.plan import Jack, Keepout, PlugType, Rules
from tests.core.builders import board, frame, link, pedal
from tests.core.documents import load

FIXTURES = Path(__file__).parent / "boards"

# The perfect squared square of order 21 and side 112 (A. J. W. Duijvestijn 1978), its Bouwkamp code as in
# OEIS A014530: each bracket fills the lowest gap from the left.
BOUWKAMP = [[50, 35, 27], [8, 19], [15, 17, 11], [6, 24], [29, 25, 9, 2], [7, 18], [16], [42], [4, 37], [33]]
SIDE = 112


def lay_squares():
    """(x, y, side) of each square, laid by the code."""
    skyline, laid = [0] * SIDE, []
    for row in BOUWKAMP:
        x = skyline.index(min(skyline))
        for side in row:
            laid.append((x, skyline[x], side))
            skyline[x : x + side] = [skyline[x] + side] * side
            x += side
    return laid


def squares_board(squares):
    pedals = [
        pedal(f"P{n}", at=(x, y), width=s, depth=s, jacks=(), switches=(), power=())
        for n, (x, y, s) in enumerate(squares)
    ]
    return board(*pedals, frame=frame(SIDE, SIDE), rules=Rules(gap_mm=0, spare_percent=0, plug_gap_mm=0))


def test_a_published_squared_square_fits_exactly():
    squares = lay_squares()
    assert sorted(side for _, _, side in squares) == [
        2, 4, 6, 7, 8, 9, 11, 15, 16, 17, 18, 19, 24, 25, 27, 29, 33, 35, 37, 42, 50,
    ]  # fmt: skip
    section = compute_layout(squares_board(squares))
    assert section.findings == ()
    assert (section.free_percent, section.tiers[0].used_percent) == (0.0, 100.0)


@pytest.mark.parametrize("moved", range(21))
def test_moving_any_square_by_one_millimetre_is_seen(moved):
    squares = lay_squares()
    x, y, side = squares[moved]
    for dx, dy in ((1, 0), (-1, 0), (0, 1), (0, -1)):
        shifted = [*squares[:moved], (x + dx, y + dy, side), *squares[moved + 1 :]]
        found = compute_layout(squares_board(shifted)).findings
        assert {finding.rule for finding in found} <= {"L01", "L03"}
        assert any(f"P{moved}" in finding.subjects for finding in found)


# --- rasters: one cell for each mm, with a margin around the frame; y is the second axis.

MARGIN, WIDTH, DEPTH = 60, 130, 100
SHAPE = (WIDTH + 2 * MARGIN, DEPTH + 2 * MARGIN)
PLUG = PlugType("J1", reach=7, width=9)


def paint(x0, y0, x1, y1):
    raster = np.zeros(SHAPE, dtype=bool)
    raster[x0 + MARGIN : x1 + MARGIN, y0 + MARGIN : y1 + MARGIN] = True
    return raster


def grown(raster, by):
    """Every cell within that many mm in x and in y."""
    wide = raster.copy()
    for shift in range(1, by + 1):
        wide |= np.roll(raster, shift, axis=0) | np.roll(raster, -shift, axis=0)
    tall = wide.copy()
    for shift in range(1, by + 1):
        tall |= np.roll(wide, shift, axis=1) | np.roll(wide, -shift, axis=1)
    return tall


def stamp(unturned, body, turn, place):
    """Turn both rasters and shift them so that the body's corner is at the place."""
    turned, turned_body = np.rot90(unturned, turn // 90), np.rot90(body, turn // 90)
    corner = np.argwhere(turned_body).min(axis=0)
    painted = np.zeros(SHAPE, dtype=bool)
    for x, y in np.argwhere(turned) - corner + (place[0] + MARGIN, place[1] + MARGIN):
        painted[x, y] = True
    return painted


def paint_plug(width, depth, jack):
    half, o = 5, jack.offset  # 9 mm rounded outward: 5 mm each way
    return {
        "left": lambda: paint(-7, o - half, 0, o + half),
        "right": lambda: paint(width, o - half, width + 7, o + half),
        "front": lambda: paint(o - half, -7, o + half, 0),
        "rear": lambda: paint(o - half, depth, o + half, depth + 7),
    }[jack.side]()


def random_pedal(draw, ref):
    width, depth = (int(v) for v in draw.integers(12, 34, 2))
    jacks = []
    for name, role in (("IN", "in"), ("OUT", "out")):
        side = ("left", "right", "front", "rear")[draw.integers(4)]
        offset = int(draw.integers(0, (width if side in ("front", "rear") else depth) + 1))
        jacks.append(Jack(name, role, side, offset, (None, 10, 24, 25, 40)[draw.integers(5)]))
    at = int(draw.integers(-4, WIDTH - 10)), int(draw.integers(-4, DEPTH - 10)), 90 * int(draw.integers(4))
    return pedal(ref, at=at, width=width, depth=depth, jacks=tuple(jacks), switches=(), power=())


def judge_by_raster(pedals, keepout, rules):
    """The (rule, subjects) that painted cells give."""
    inside = paint(0, 0, WIDTH, DEPTH)
    kept = paint(keepout.x, keepout.y, keepout.x + keepout.width, keepout.y + keepout.depth)
    bodies, plugs, found = {}, [], set()
    for p in pedals:
        own = paint(0, 0, p.width, p.depth)
        place, turn = (p.place.x, p.place.y), p.place.turn
        bodies[p.ref] = stamp(own, own, turn, place)
        plugs += [(p.ref, j, stamp(paint_plug(p.width, p.depth, j), own, turn, place)) for j in p.jacks]
    for ref, body in bodies.items():
        found |= {("L01", (ref,))} if (body & ~inside).any() else set()
        found |= {("L04", (ref, "keepout 1"))} if (body & kept).any() else set()
    for (ref, body), (other, its) in product(bodies.items(), bodies.items()):
        if ref < other and (grown(body, rules.gap_mm) & its).any():
            found.add(("L03", (ref, other)))
    for number, (ref, jack, cells) in enumerate(plugs):
        end, wide = f"{ref}.{jack.name}", grown(cells, rules.plug_gap_mm)
        found |= {("L08", (end,))} if (wide & ~inside).any() else set()
        found |= {("L06", (end, "keepout 1"))} if (wide & kept).any() else set()
        found |= {("L05", (end, o)) for o, body in bodies.items() if o != ref and (wide & body).any()}
        for other, its_jack, its in plugs[number + 1 :]:
            apart = None not in (jack.height, its_jack.height) and abs(jack.height - its_jack.height) >= 15
            if other != ref and not apart and (wide & its).any():
                found.add(("L07", tuple(sorted((end, f"{other}.{its_jack.name}")))))
    return found


@pytest.mark.parametrize("seed", range(25))
def test_random_boards_are_judged_as_painted(seed):
    draw = np.random.default_rng(seed)
    pedals = [random_pedal(draw, f"P{n}") for n in range(5)]
    rules = Rules(gap_mm=int(draw.integers(0, 5)), plug_gap_mm=int(draw.integers(0, 4)))
    keepout = Keepout(int(draw.integers(0, 100)), int(draw.integers(0, 80)), 20, 15)
    links = [link(f"W{n}", f"{p.ref}.OUT", f"{pedals[(n + 1) % 5].ref}.IN") for n, p in enumerate(pedals)]
    plan = board(
        *pedals, links=links, plugs=[PLUG], rules=rules, frame=frame(WIDTH, DEPTH, keepouts=(keepout,))
    )
    judged = {"L01", "L03", "L04", "L05", "L06", "L07", "L08"}
    found = {
        (f.rule, tuple(sorted(f.subjects)) if f.rule == "L07" else f.subjects)
        for f in compute_layout(plan).findings
        if f.rule in judged
    }
    assert found == judge_by_raster(pedals, keepout, rules)


# --- a separate program's verdicts

PLACINGS = json.loads((FIXTURES / "placings.json").read_text("utf-8"))
MEETING = ("L03", "L04", "L05", "L06", "L07", "L10")


def placed(document, places):
    for p in document["pedals"]:
        x, y, turn = places[p["ref"]]
        p["place"] = {"x": x, "y": y, "turn": turn}
    return load(document)


def owners(findings, *rules):
    """The things of each finding, jacks by their pedal."""
    return sorted({tuple(sorted(s.split(".")[0] for s in f.subjects)) for f in findings if f.rule in rules})


@pytest.mark.parametrize("case", [(b, p) for b in range(5) for p in range(6)])
def test_placings_are_judged_as_by_a_separate_program(case):
    entry = PLACINGS["boards"][case[0]]
    judged = entry["placings"][case[1]]
    found = compute_layout(placed(entry["board"], judged["places"])).findings
    assert owners(found, "L01", "L08") == [(ref,) for ref in judged["beyond the frame"]]
    assert owners(found, "L09") == [(ref,) for ref in judged["treadle too far"]]
    assert owners(found, "L02") == [(ref,) for ref in judged["off its tier"]]
    assert owners(found, *MEETING) == [tuple(pair) for pair in judged["meeting"]]
    assert owners(found, "L11") == [tuple(pair) for pair in judged["switches too near"]]
    assert owners(found, "L12") == [tuple(pair) for pair in judged["pairs apart"]]


def test_the_separate_program_judged_each_rule_both_ways():
    for key in (
        "beyond the frame",
        "treadle too far",
        "meeting",
        "switches too near",
        "pairs apart",
        "off its tier",
    ):
        verdicts = [bool(p[key]) for entry in PLACINGS["boards"] for p in entry["placings"]]
        assert any(verdicts), key
