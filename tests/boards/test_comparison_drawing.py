"""The drawing of what changed: marks at every part concerned, ghosts where parts were, and a key."""

from dataclasses import replace
from itertools import combinations
from random import Random
from xml.etree import ElementTree

import pytest

from boardshop.boards.drawing.comparison import draw_comparison
from boardshop.boards.drawing.lettering import measure
from boardshop.boards.drawing.pens import NAME, REF, SIGN_LETTER
from boardshop.boards.drawing.shapes import Area
from boardshop.core.cables.runs import measure_runs
from boardshop.core.diff import compare_cuts, compare_plans
from boardshop.core.index import fold, split_end
from boardshop.core.plan import BoardPlan, Place
from tests.core import builders as b
from tests.core.documents import load
from tests.core.random_boards import random_document

SVG = "{http://www.w3.org/2000/svg}"
LETTERS_OF = {"moved": "MN", "added": "N", "removed": "G", "re-fed": "FN", "re-cut": "CNG"}
"""Signs that answer for a difference: what is new or gone is not marked as moved, fed or cut besides."""
MOST_LETTERS = 500_000
"""Measured: At most 0.1 s and 200,000."""


def two_pedals(**changes: object) -> BoardPlan:
    pedals = (b.pedal("P1", at=(40, 40), name="Wah"), b.pedal("P2", at=(400, 40), name="Fuzz"))
    values = {"frame": b.frame(600, 300), "name": "Nightjar", "supplies": (b.supply("S1", b.outlet("1")),)}
    return b.wired_board(*pedals, **(values | changes))


def with_place(plan: BoardPlan, ref: str, place: Place | None) -> BoardPlan:
    return replace(plan, pedals=tuple(replace(p, place=place) if p.ref == ref else p for p in plan.pedals))


def made_board() -> BoardPlan:
    """All three cables can be cut to a known length."""
    made = {"cable": "C1", "plug_from": "J1", "plug_to": "J1"}
    plan = two_pedals(cables=(b.cable_type(),), plugs=(b.plug_type(),))
    return replace(plan, links=tuple(replace(link, **made) for link in plan.links))


def cuts(plan: BoardPlan) -> dict[str, int]:
    return {run.link.ref: run.cut_mm for run in measure_runs(plan)}


def rig(draw: Random) -> BoardPlan:
    """A line of pedals on places of a grid, whose cables can be cut."""
    refs = draw.sample([f"P{number}" for number in range(1, 9)], draw.randint(2, 7))
    places = draw.sample([(x, y) for x in (40, 220, 400, 580) for y in (30, 210)], len(refs))
    pedals = [b.pedal(ref, at=place) for ref, place in zip(refs, places, strict=True)]
    fed = [ref for ref in sorted(refs) if draw.random() < 0.4]
    outlets = [b.outlet(str(number)) for number in range(1, 9)]
    feeds = tuple(b.feed(f"S1.{draw.randint(1, 8)}", f"{ref}.DC") for ref in fed)
    made = {"cable": "C1", "plug_from": "J1", "plug_to": "J1"}
    return b.board(
        *pedals,
        frame=b.frame(800, 400),
        sources=(b.guitar(),),
        amps=(b.amp(),),
        cables=(b.cable_type(),),
        plugs=(b.plug_type(),),
        links=tuple(replace(link, **made) for link in b.chain("G1", *refs, "A1")),
        supplies=(b.supply("S1", *outlets),),
        feeds=feeds,
    )


def two_boards(number: int) -> tuple[BoardPlan, BoardPlan]:
    """Two rigs, two odd boards of the same refs, or one of which entries are gone and moved."""
    draw = Random(number)
    if number % 2:
        return rig(draw), rig(draw)
    recorded = draw.choice([0.6, 0.9, 1.0])
    one = load(random_document(number, recorded))
    if number % 4:
        return one, load(random_document(number + 1000, recorded))
    pedals = [pedal for pedal in one.pedals if draw.random() < 0.8]
    moved = [replace(p, place=Place(draw.randint(0, 500), draw.randint(0, 300))) for p in pedals]
    refs = {fold(pedal.ref) for pedal in one.pedals} - {fold(pedal.ref) for pedal in pedals}
    links = [w for w in one.links if not refs & {fold(split_end(end)[0]) for end in (w.source, w.target)}]
    feeds = [f for f in one.feeds if not refs & {fold(split_end(jack)[0]) for jack in f.jacks}]
    other = replace(one, pedals=tuple(moved), links=tuple(links), feeds=tuple(feeds[1:]))
    return (one, other) if draw.random() < 0.5 else (other, one)


def is_piece(ref: str, *plans: BoardPlan) -> bool:
    """A piece of cable is no part of a drawing."""
    return any(fold(piece.ref) == ref for plan in plans for piece in plan.pieces)


def lettered(text: ElementTree.Element) -> Area:
    """About where its letters are."""
    letter = {"d-ref": REF, "d-name": NAME, "d-sign": SIGN_LETTER}[text.get("class")]
    size = float(text.get("font-size"))
    width = measure(text.text, size, letter.face)
    return Area(float(text.get("x")) - width / 2, float(text.get("y")) - 0.7 * size, width, 0.7 * size)


def drawn(before: BoardPlan, after: BoardPlan, **how: object) -> ElementTree.Element:
    return ElementTree.fromstring(draw_comparison(before, after, **how))


def signs(root: ElementTree.Element) -> dict[str, str]:
    """By ref of what bears them; each is drawn as white letters on ink."""
    found = {}
    for marked in root.iter():
        if marked.get("data-signs"):
            letters = [t.text for t in marked.iter(f"{SVG}text") if t.get("class") == "d-sign"]
            assert "".join(letters) == marked.get("data-signs")
            found[marked.get("data-of")] = "".join(letters)
    return found


def parts(root: ElementTree.Element) -> dict[str, str]:
    """Signs of what is no cable."""
    return {ref: letters for ref, letters in signs(root).items() if not ref.startswith("W")}


def pennants(root: ElementTree.Element) -> list[str]:
    """What cables with signs say, on the drawing and below it."""
    marked = [one for one in root.iter() if one.get("data-of", "").startswith("W")]
    return [t.text for one in marked for t in one.iter(f"{SVG}text") if t.get("class") != "d-sign"]


def key_words(root: ElementTree.Element) -> str:
    key = next(g for g in root.iter(f"{SVG}g") if g.get("class") == "d-key")
    return " | ".join(t.text for t in key.iter(f"{SVG}text"))


def ghosts(root: ElementTree.Element) -> dict[str, ElementTree.Element]:
    return {r.get("data-was"): r for r in root.iter(f"{SVG}rect") if r.get("data-was")}


def paths(root: ElementTree.Element, name: str) -> list[ElementTree.Element]:
    return [one for one in root.iter() if name in one.get("class", "").split()]


def test_nothing_changed() -> None:
    root = drawn(two_pedals(), two_pedals())
    assert signs(root) == {}
    assert ghosts(root) == {}
    assert key_words(root) == "Nothing changed that a drawing shows"


def test_a_moved_pedal_leaves_a_dashed_ghost_of_its_size_and_an_arrow() -> None:
    before = two_pedals()
    root = drawn(before, with_place(before, "P1", Place(200, 150)))
    (ghost,) = ghosts(root).values()
    assert parts(root) == {"P1": "M"}
    assert "P1 before" in [t.text for t in root.iter(f"{SVG}text")]
    assert ghost.get("stroke-dasharray")
    size = before.pedals[0].width, before.pedals[0].depth
    assert (float(ghost.get("width")), float(ghost.get("height"))) == size
    body = next(r for r in root.iter(f"{SVG}rect") if r.get("data-ref") == "P1")
    assert float(body.get("x")) - float(ghost.get("x")) == pytest.approx(160)
    assert float(ghost.get("y")) - float(body.get("y")) == pytest.approx(110)
    assert len(paths(root, "d-move")) == 1


def test_a_pedal_turned_where_it_stands_needs_no_arrow() -> None:
    before = two_pedals()
    root = drawn(before, with_place(before, "P1", Place(40, 40, 180)))
    assert parts(root) == {"P1": "M"}
    assert paths(root, "d-move") == []


def test_a_removed_pedal_is_a_ghost_with_its_ref() -> None:
    before = two_pedals()
    after = replace(before, pedals=before.pedals[:1], links=before.links[:1])
    root = drawn(before, after)
    assert list(ghosts(root)) == ["P2"]
    assert signs(root)["P2"] == "G"
    assert key_words(root).startswith("G | gone")


def test_a_new_pedal_has_a_double_outline_and_no_other_sign() -> None:
    after = two_pedals()
    before = replace(after, pedals=after.pedals[:1], links=after.links[:1])
    root = drawn(before, after)
    assert parts(root) == {"P2": "N"}
    assert len([one for one in paths(root, "d-new") if one.tag == f"{SVG}rect"]) == 1


def test_fed_and_wired_otherwise() -> None:
    before = two_pedals()
    fed = replace(before, feeds=(b.feed("S1.1", "P2.DC"),))
    assert signs(drawn(before, fed)) == {"P2": "F"}
    rewired = replace(before, links=b.chain("G1", "P2", "P1", "A1"))
    assert "W" in set(parts(drawn(before, rewired)).values())


def test_a_former_frame_of_another_size_is_dashed_and_named() -> None:
    before = two_pedals(frame=b.frame(700, 350))
    root = drawn(before, two_pedals())
    assert "700 × 350" in key_words(root)
    outline = [r for r in paths(root, "d-ghost") if float(r.get("width")) == 700]
    assert len(outline) == 1
    assert outline[0].get("stroke-dasharray")


def test_a_smaller_frame_keeps_what_stood_beyond_it_on_the_sheet() -> None:
    before = with_place(two_pedals(frame=b.frame(1200, 600)), "P2", Place(1100, 450))
    root = drawn(before, two_pedals())
    _, _, width, height = map(float, root.get("viewBox").split())
    for rect in root.iter(f"{SVG}rect"):
        x, y, wide, high = (float(rect.get(key)) for key in ("x", "y", "width", "height"))
        assert min(x, y) >= 0
        assert x + wide <= width
        assert y + high <= height
    for text in root.iter(f"{SVG}text"):
        assert 0 <= float(text.get("x")) <= width
        assert 0 <= float(text.get("y")) <= height


def test_names_are_escaped_and_all_changes_stand_in_words() -> None:
    odd = replace(two_pedals().pedals[0], name='<b> & "Wah"')
    before = replace(two_pedals(), pedals=(odd, *two_pedals().pedals[1:]))
    svg = draw_comparison(before, with_place(before, "P1", Place(60, 40)), name="side")
    root = ElementTree.fromstring(svg)
    assert "<b>" not in svg
    assert root.get("aria-describedby") == "side-words"
    words = next(one.text for one in root if one.get("id") == "side-words")
    assert "moved from x 40 mm, y 40 mm to x 60 mm, y 40 mm." in words


def test_lengths_of_the_description_and_key_are_in_the_unit_asked_for() -> None:
    before = two_pedals(frame=b.frame(762, 381))
    root = drawn(before, with_place(two_pedals(), "P1", Place(254, 40)), length_unit="in")
    assert "30.00 × 15.00" in key_words(root)
    words = next(one.text for one in root if one.tag == f"{SVG}desc")
    assert "Wah (P1) moved from x 1.57 in, y 1.57 in to x 10.00 in, y 1.57 in." in words


def test_a_cable_to_be_cut_otherwise_says_both_of_cores_lengths_on_its_pennant() -> None:
    before = made_board()
    after = with_place(before, "P2", Place(300, 40))
    was, now = (cuts(plan)["W2"] for plan in (before, after))
    assert was > now
    root = drawn(before, after)
    assert signs(root)["W2"] == "C"
    assert f"W2 {was} › {now} mm" in pennants(root)
    assert "to be cut otherwise: before › now" in key_words(root)


def test_lengths_on_pennants_are_in_the_unit_asked_for() -> None:
    before = made_board()
    after = with_place(before, "P2", Place(300, 40))
    was, now = (cuts(plan)["W2"] / 25.4 for plan in (before, after))
    assert f"W2 {was:.2f} › {now:.2f} in" in pennants(drawn(before, after, length_unit="in"))


def test_a_new_cable_has_a_double_outline_and_a_gone_one_keeps_its_run_dashed() -> None:
    both = made_board()
    less = replace(both, links=(both.links[0], both.links[2]))
    new, gone = drawn(less, both), drawn(both, less)
    assert signs(new)["W2"] == "N"
    assert len(paths(new, "d-new")) == 1
    assert signs(gone)["W2"] == "G"
    (run,) = (one for one in paths(gone, "d-ghost") if one.tag == f"{SVG}path")
    assert run.get("stroke-dasharray")
    assert pennants(new) == pennants(gone) == [f"W2 {cuts(both)['W2']} mm"]


def test_a_cable_without_a_way_is_listed_below_the_drawing() -> None:
    before = made_board()
    root = drawn(before, with_place(before, "P2", None))
    assert "Changed without being on the drawing: | " in key_words(root)
    assert f"W2 {cuts(before)['W2']} mm › length unknown" in pennants(root)
    assert signs(root)["P2"] == "M"


@pytest.mark.parametrize("there", [Place(300, 40), Place(70, 100), Place(40, 150), None])
def test_drawing_and_sentences_name_the_same_cables(there: Place | None) -> None:
    before = made_board()
    after = with_place(before, "P2", there)
    told = {ref for one in compare_cuts(before, after) for ref in one.subjects}
    assert told
    assert {ref for ref in signs(drawn(before, after)) if ref.startswith("W")} == told


def test_labels_of_former_places_cover_no_pennant_sign_or_name() -> None:
    before = made_board()
    root = drawn(before, with_place(with_place(before, "P1", Place(60, 60)), "P2", Place(380, 60)))
    said = [
        t for t in root.iter(f"{SVG}text") if t.text and (t.get("class") in ("d-ref", "d-name", "d-sign"))
    ]
    assert {"P1 before", "P2 before"} <= {t.text for t in said}
    areas = [(t.text, lettered(t)) for t in said]
    covered = [(one, other) for (one, a), (other, o) in combinations(areas, 2) if a.shared(o)]
    assert covered == []


def test_any_two_boards_have_a_mark_for_each_change_and_a_drawing_of_bounded_size() -> None:
    for number in range(200):
        before, after = two_boards(number)
        svg = draw_comparison(before, after)
        assert len(svg) < MOST_LETTERS
        marked = {fold(ref): letters for ref, letters in signs(ElementTree.fromstring(svg)).items()}
        for one in (*compare_plans(before, after), *compare_cuts(before, after)):
            for ref in {fold(split_end(subject)[0]) for subject in one.subjects}:
                if one.kind in LETTERS_OF and not is_piece(ref, before, after):
                    assert set(marked.get(ref, "")) & set(LETTERS_OF[one.kind]), (number, one)


def test_a_wide_pennant_stands_aside_with_a_leader_rather_than_on_a_name() -> None:
    """Two pedals so close, in a full row, that what the cable between them says would cover both."""
    low = {"depth": 60, "name": "Wide Low Name"}
    row = [b.pedal(f"P{n}", at=(120 * n, 40), **low) for n in range(1, 5)]
    made = {"cable": "C1", "plug_from": "J1", "plug_to": "J1"}
    links = (replace(link, **made) for link in b.chain("P4", "P3", "P2", "P1"))
    frame = b.frame(620, 300)
    before = b.board(*row, frame=frame, links=links, cables=(b.cable_type(),), plugs=(b.plug_type(),))
    root = drawn(before, with_place(before, "P2", Place(250, 40)))
    (marked,) = (one for one in root.iter() if one.get("data-of") == "W2")
    assert len([one for one in marked.iter() if "d-dimension" in one.get("class", "")]) == 1
    said = [t for t in root.iter(f"{SVG}text") if t.get("class") == "d-name"]
    (pennant,) = (lettered(t) for t in marked.iter(f"{SVG}text") if t.get("class") == "d-ref")
    assert [t.text for t in said if lettered(t).shared(pennant)] == []
