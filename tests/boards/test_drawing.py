"""The drawing shows what the plan says: to scale, everything once, nothing hidden, lettering in its place."""

import os
import subprocess
import sys
from collections import Counter
from dataclasses import dataclass, replace
from itertools import product
from xml.etree import ElementTree

import pytest
from fontTools.ttLib import TTFont
from hypothesis import given
from hypothesis import strategies as st

from boardshop.boards.drawing import choose_scale, draw_board, drawing_size
from boardshop.boards.drawing.ground import MOST_HATCH, hatch
from boardshop.boards.drawing.lettering import FONTS, Face, fit, measure
from boardshop.boards.drawing.shapes import Area
from boardshop.core.cables.runs import measure_runs
from boardshop.core.layout.geometry import body_box
from boardshop.core.plan import BoardPlan, Keepout, Link, Point, Rail, Tier
from tests.core import builders as b
from tests.house.tree import ROOT

SVG = "{http://www.w3.org/2000/svg}"
TURNED = b.pedal("P4", at=(300, 170, 90), name="Low Ember")
TITLES = ("Tell True", "Brass Moth", "Long Vowel", "Low Ember", "Quarry")
TITLES += ("Slow Tide", "Far Shed", "Grain Hall", "Second Pass")
TELL_TRUE = b.pedal("P1", "tuner", at=(500, 20), name="Tell True")


def crowded(**changes: object) -> BoardPlan:
    """Nine placed pedals in two rows, one without a place, a supply underneath, a keep-out, rails, tiers."""
    places = [(660 - 150 * (n % 5), 20 + 190 * (n // 5), (0, 90, 180, 270)[n % 4]) for n in range(9)]
    pedals = [b.pedal(f"P{n + 1}", at=places[n], name=TITLES[n]) for n in range(9)]
    values = {
        "name": "Nightjar main",
        "frame": b.frame(
            820,
            400,
            rails=(Rail(40, 60), Rail(200, 220)),
            tiers=(Tier(0, 180, 0), Tier(180, 400, 30)),
            keepouts=(Keepout(20, 330, 160, 60, "wireless receiver"),),
        ),
        "supplies": (b.under_frame(b.supply("S1"), 300, 60),),
    }
    return b.wired_board(*pedals, b.pedal("P10", name="Evening Shiver"), **(values | changes))


def parse(svg: str) -> ElementTree.Element:
    return ElementTree.fromstring(svg)


def drawn(plan: BoardPlan, **how: object) -> ElementTree.Element:
    return parse(draw_board(plan, runs=measure_runs(plan), **how))


def numbers_of(element: ElementTree.Element, *names: str) -> tuple[float, ...]:
    return tuple(float(element.get(name)) for name in names)


def bodies(root: ElementTree.Element) -> dict[str, ElementTree.Element]:
    return {r.get("data-ref"): r for r in root.iter(f"{SVG}rect") if "d-body" in r.get("class", "").split()}


def texts(root: ElementTree.Element, *classes: str) -> list[ElementTree.Element]:
    return [t for t in root.iter(f"{SVG}text") if not classes or t.get("class") in classes]


def words(root: ElementTree.Element) -> list[str]:
    return [t.text or "" for t in texts(root)]


def advance(text: ElementTree.Element) -> float:
    """Width of a text element, from the font file that its own attributes name."""
    family = "mono" if "Mono" in text.get("font-family") else "next"
    font = TTFont(FONTS / f"atkinson-{family}-latin-{text.get('font-weight')}.woff2")
    glyphs = [font.getBestCmap()[ord(letter)] for letter in text.text]
    em = font["head"].unitsPerEm
    return float(text.get("font-size")) / em * sum(font["hmtx"].metrics[glyph][0] for glyph in glyphs)


def box_of(text: ElementTree.Element) -> tuple[float, float, float, float]:
    """Left, top, right and bottom of a text element; ascenders and descenders as the type has them."""
    x, y, size = numbers_of(text, "x", "y", "font-size")
    wide = advance(text)
    left = x - {"middle": wide / 2, "start": 0, "end": wide}[text.get("text-anchor")]
    return left, y - 0.74 * size, left + wide, y + 0.24 * size


def balloons_of(root: ElementTree.Element) -> list[tuple[float, ...]]:
    circles = [c for c in root.iter(f"{SVG}circle") if c.get("class") == "d-balloon"]
    return [numbers_of(circle, "cx", "cy", "r") for circle in circles]


def view(root: ElementTree.Element) -> tuple[float, float]:
    return tuple(float(part) for part in root.get("viewBox").split()[2:])


# To scale


def test_a_body_stands_where_the_plan_puts_it() -> None:
    root = drawn(b.board(TURNED, frame=b.frame(600, 320)))
    frame = next(r for r in root.iter(f"{SVG}rect") if r.get("class") == "d-frame")
    left, top, depth = numbers_of(frame, "x", "y", "height")
    x, y, width, height = numbers_of(bodies(root)["P4"], "x", "y", "width", "height")
    # 73 x 130 turned by 90 degrees, front left corner at (300, 170) for the player; y runs down in SVG.
    assert (width, height) == (130, 73)
    assert (x - left, depth - (y - top) - height) == pytest.approx((300, 170), abs=0.02)


def test_every_body_equals_geometrys() -> None:
    plan = crowded()
    found = bodies(drawn(plan))
    frame = next(r for r in drawn(plan).iter(f"{SVG}rect") if r.get("class") == "d-frame")
    left, top = numbers_of(frame, "x", "y")
    for pedal in plan.pedals[:9]:
        box = body_box(pedal)
        expected = (box.x0 + left, top + 400 - box.y1, box.width, box.depth)
        assert numbers_of(found[pedal.ref], "x", "y", "width", "height") == pytest.approx(expected, abs=0.02)


def test_on_paper_a_mm_is_a_mm() -> None:
    root = drawn(crowded(), scale=5)
    width, height = view(root)
    assert float(root.get("width").removesuffix("mm")) == pytest.approx(width / 5, abs=0.01)
    assert float(root.get("height").removesuffix("mm")) == pytest.approx(height / 5, abs=0.01)
    assert any("scale 1:5" in said for said in words(root))


def test_the_frames_size_stands_at_its_dimension_lines() -> None:
    root = drawn(crowded())
    assert {t.text for t in texts(root, "d-measure")} >= {"820", "400"}


def test_a_pedal_outside_the_frame_is_still_on_the_drawing() -> None:
    root = drawn(b.board(b.pedal("P1", at=(-300, -200))))
    x, y, width, height = numbers_of(bodies(root)["P1"], "x", "y", "width", "height")
    assert x > 0
    assert y + height < view(root)[1]
    assert (width, height) == (73, 130)


@pytest.mark.parametrize(("spare", "scale"), [(0, 5), (0.1, 5), (-0.1, 10)])
def test_the_scale_is_the_largest_that_fits(spare: float, scale: int) -> None:
    # 1:1, 1:2, 1:5, 1:10, 1:20, 1:50 are the scales that ISO 5455 recommends down to there.
    width, height = drawing_size(crowded(), 5)
    assert choose_scale(crowded(), width + spare, height + 5) == scale


# Everything once, nothing hidden


def test_each_ref_stands_once() -> None:
    refs = [e.get("data-ref") for e in drawn(crowded()).iter() if e.get("data-ref")]
    assert Counter(refs) == dict.fromkeys([*(f"P{n}" for n in range(1, 10)), "S1"], 1)


def test_balloons_count_along_the_signal() -> None:
    root = drawn(crowded())
    assert sorted(t.text for t in texts(root, "d-number")) == sorted(map(str, range(1, 11)))


def test_a_pedal_that_the_signal_misses_shows_its_ref() -> None:
    assert [t.text for t in texts(drawn(b.board(TELL_TRUE)), "d-number")] == ["P1"]


def test_a_pedal_without_a_place_is_listed() -> None:
    root = drawn(crowded())
    listed = next(e for e in root.iter(f"{SVG}g") if e.get("class") == "d-unplaced")
    assert words(listed) == ["Not placed yet", "10", "Evening Shiver"]
    assert "P10" not in bodies(root)


def test_many_unplaced_pedals_keep_on_the_sheet() -> None:
    root = drawn(b.board(*(b.pedal(f"P{n}", name=f"Pedal {n}") for n in range(1, 41))))
    width, height = view(root)
    boxes = [box_of(t) for t in texts(root, "d-name")]
    assert len(boxes) == 40
    assert all(right <= width and bottom <= height for _, _, right, bottom in boxes)


def test_runs_carry_their_pennants_and_go_dashed_underneath() -> None:
    plan = b.wired_board(TELL_TRUE, b.pedal("P2", at=(300, 20), name="Brass Moth"))
    under = replace(plan, links=(plan.links[0], replace(plan.links[1], route="under"), plan.links[2]))
    paths = [p for p in drawn(under).iter(f"{SVG}path") if "d-run" in p.get("class").split()]
    dashed = [p for p in paths if p.get("stroke-dasharray")]
    assert [p.get("class") for p in dashed] == ["d-run is-under"]
    assert {"W1", "W2", "W3"} <= {t.text for t in texts(drawn(under), "d-ref")}


def test_a_run_without_a_way_is_named() -> None:
    plan = b.wired_board(TELL_TRUE, b.pedal("P2"))
    assert any("for want of a place or a way: W2, W3" in said for said in words(drawn(plan)))


def test_a_supply_underneath_is_dashed_and_named() -> None:
    root = drawn(crowded())
    outline = next(r for r in root.iter(f"{SVG}rect") if r.get("data-ref") == "S1")
    assert outline.get("stroke-dasharray")
    assert "S1 under" in words(root)


def test_plugs_stand_at_the_jacks_that_are_used() -> None:
    plan = b.board(TELL_TRUE, links=(b.link("W1", "G1.OUT", "P1.IN"),))
    plugs = [r for r in drawn(plan).iter(f"{SVG}rect") if r.get("class") == "d-plug"]
    # A plug of reach 14 and width 22 at a jack in the right side.
    assert [numbers_of(r, "width", "height") for r in plugs] == [(14, 22)]


def test_the_view_and_the_player_are_named() -> None:
    said = words(drawn(crowded()))
    assert "player stands here" in said
    assert any(line.startswith("View from above, dimensions in mm") for line in said)


# Lettering


def test_no_name_runs_out_of_its_body() -> None:
    plan = crowded()
    long = [replace(p, name=f"{p.name} Extraordinarily Longwinded") for p in plan.pedals]
    for pedals, scale in product((plan.pedals, tuple(long)), (None, 5, 10)):
        root = drawn(replace(plan, pedals=pedals), scale=scale)
        inside = [numbers_of(r, "x", "y", "width", "height") for r in bodies(root).values()]
        faces = [e for e in root.iter(f"{SVG}g") if e.get("class") == "d-pedal"]
        names = [box_of(t) for face in faces[:9] for t in texts(face, "d-name")]
        assert len(names) >= 9
        for left, top, right, bottom in names:
            assert any(
                x <= left and right <= x + width and y <= top and bottom <= y + height
                for x, y, width, height in inside
            )


def test_a_name_cut_short_is_still_told_whole() -> None:
    root = drawn(b.board(b.pedal("P1", at=(0, 0), width=40, name="Incomprehensibilities")))
    assert any(said.endswith("…") for said in words(root))
    assert any(t.text == "Incomprehensibilities" for t in root.iter(f"{SVG}title"))


def test_no_lettering_leaves_the_sheet() -> None:
    root = drawn(crowded(), scale=5)
    width, height = view(root)
    level = [box_of(t) for t in texts(root) if t.get("transform") is None]
    assert all(
        left >= 0 and right <= width and top >= 0 and bottom <= height for left, top, right, bottom in level
    )


def test_names_and_balloons_keep_apart() -> None:
    root = drawn(crowded())
    balloons = balloons_of(root)
    names = [box_of(t) for t in texts(root, "d-name")]
    pairs = [(n, c) for n, c in product(names, balloons) if n[0] < c[0] < n[2] or n[1] < c[1] < n[3]]
    assert pairs
    assert not [
        1
        for (left, top, right, bottom), (x, y, r) in pairs
        if left < x + r and x - r < right and top < y + r - 0.05 * r and y - 0.95 * r < bottom
    ]


def test_pennants_keep_off_the_balloons() -> None:
    root = drawn(crowded())
    balloons = balloons_of(root)
    refs = [box_of(t) for t in texts(root, "d-ref") if (t.text or "").startswith("W")]
    assert len(refs) == 9
    assert not [
        1
        for (left, top, right, bottom), (x, y, r) in product(refs, balloons)
        if left < x + r and x - r < right and top < y + r and y - r < bottom
    ]


FACES = st.sampled_from([Face("next", 600), Face("mono", 400)])
NAMES = st.text(st.characters(codec="utf-8", exclude_categories=("Cs",)), max_size=40)


@given(NAMES, FACES, st.floats(1, 80), st.floats(0, 60))
def test_what_fits_stays_within_its_room(text: str, face: Face, width: float, height: float) -> None:
    lettering = fit(text, face, 12, 6, width, height)
    assert lettering.width(face) <= width + 1e-9
    assert not lettering.lines or lettering.height <= height + 1e-9
    assert 6 <= lettering.size <= 12
    assert lettering.is_cut or " ".join(lettering.lines) == " ".join(text.split())


def test_lettering_grows_to_its_full_size_where_there_is_room() -> None:
    face = Face("next", 600)
    one_line = measure("Brass Moth", 12, face)
    assert fit("Brass Moth", face, 12, 6, one_line, 100).lines == ("Brass Moth",)
    assert fit("Brass Moth", face, 12, 6, one_line - 0.01, 100).lines == ("Brass", "Moth")
    assert fit("Brass Moth", face, 12, 6, one_line - 0.01, 12).size < 12


# Safe, repeatable, readable


HOSTILE = "</text><script>alert(1)</script>\"'&\x00\x0b"


def test_hostile_names_stay_words() -> None:
    pedal = b.pedal("P1", at=(0, 0), name=HOSTILE)
    keepout = Keepout(100, 100, 150, 60, HOSTILE)
    svg = draw_board(
        b.board(pedal, name=HOSTILE, frame=b.frame(keepouts=(keepout,))), url=lambda ref: f"/b?x='\"<{ref}>"
    )
    assert "<script" not in svg
    assert [e.tag for e in parse(svg).iter() if e.tag == f"{SVG}script"] == []
    assert "script" in "".join(parse(svg).itertext())


def test_nothing_inline_that_the_content_policy_forbids() -> None:
    linked = drawn(crowded(), url=lambda ref: f"#{ref}")
    attributes = {name for e in linked.iter() for name in e.attrib}
    assert not {name for name in attributes if name == "style" or name.startswith("on")}
    assert f"{SVG}style" not in {e.tag for e in drawn(crowded()).iter()}


def test_links_lead_to_each_row_and_make_the_drawing_a_group() -> None:
    root = drawn(crowded(), url=lambda ref: f"#{ref}")
    targets = {a.get("href") for a in root.iter(f"{SVG}a")}
    expected = {"S1"} | {f"P{n}" for n in range(1, 11)} | {f"W{n}" for n in range(1, 10)}
    assert targets == {f"#{ref}" for ref in expected}
    assert all(a[0].tag == f"{SVG}title" and a[0].text for a in root.iter(f"{SVG}a"))
    assert (root.get("role"), drawn(crowded()).get("role")) == ("group", "img")


def test_the_picture_is_told_in_words() -> None:
    root = drawn(crowded(), name="small")
    by_id = {e.get("id"): e.text for e in root if e.get("id")}
    assert by_id[root.get("aria-labelledby")] == "Drawing of Nightjar main"
    assert "820 mm wide and 400 mm deep" in by_id[root.get("aria-describedby")]
    assert "1 Tell True" in by_id[root.get("aria-describedby")]


def test_what_is_selected_is_marked() -> None:
    root = drawn(crowded(), selected="p3")
    assert bodies(root)["P3"].get("class") == "d-body is-selected"
    assert bodies(root)["P2"].get("class") == "d-body"


def test_the_same_plan_gives_the_same_text() -> None:
    program = (
        "import django; django.setup()\n"
        "from tests.boards.test_drawing import crowded, measure_runs, draw_board\n"
        "print(draw_board(crowded(), runs=measure_runs(crowded()), scale=5))"
    )
    given = os.environ | {"DJANGO_SETTINGS_MODULE": "boardshop.settings"}
    answers = {
        subprocess.run(
            [sys.executable, "-c", program],
            cwd=ROOT,
            env=given | {"PYTHONHASHSEED": seed},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }
    assert len(answers) == 1
    assert draw_board(crowded(), runs=measure_runs(crowded()), scale=5) in answers.pop()


def test_an_empty_board_is_drawn() -> None:
    assert "player stands here" in words(drawn(BoardPlan(frame=b.frame(400, 200))))


def test_hatching_stays_inside_and_covers_evenly() -> None:
    area = Area(10, 20, 60, 25)
    lines = hatch(area, 4)
    assert all(10 <= x <= 70 and 20 <= y <= 45 for line in lines for x, y in line)
    assert len(lines) == (60 + 25) // 4
    assert all(abs(x1 - x0) == pytest.approx(abs(y1 - y0)) for (x0, y0), (x1, y1) in lines)


@dataclass
class Way:
    link: Link
    points: tuple[tuple[int, int], ...]


def test_a_pennant_points_where_the_signal_goes() -> None:
    plan = b.board(TELL_TRUE, frame=b.frame(600, 320, entry=Point(600, 200)))
    for points, leftmost_is_tip in ((((500, 250), (100, 250)), True), (((100, 250), (500, 250)), False)):
        root = parse(draw_board(plan, runs=(Way(b.link("W1", "P1.OUT", "A1.IN"), points),)))
        flag = next(g for g in root.iter(f"{SVG}g") if g.get("class") == "d-mark")
        path = next(flag.iter(f"{SVG}path")).get("d")
        xs = sorted(float(pair.split()[0]) for pair in path.strip("MZ").split("L"))
        assert (xs.count(xs[0]) == 1) is leftmost_is_tip


def test_what_is_far_larger_than_the_drawing_is_hatched_with_a_bounded_number_of_lines() -> None:
    lines = hatch(Area(0, 0, 1_000_000_000, 1_000_000_000), 4)
    assert len(lines) in (MOST_HATCH, MOST_HATCH + 1)
