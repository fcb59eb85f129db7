"""The drawing of what changed: marks at every part concerned, ghosts where parts were, and a key."""

from dataclasses import replace
from xml.etree import ElementTree

import pytest

from boardshop.boards.drawing.comparison import draw_comparison
from boardshop.core.plan import BoardPlan, Place
from tests.core import builders as b

SVG = "{http://www.w3.org/2000/svg}"


def two_pedals(**changes: object) -> BoardPlan:
    pedals = (b.pedal("P1", at=(40, 40), name="Wah"), b.pedal("P2", at=(400, 40), name="Fuzz"))
    values = {"frame": b.frame(600, 300), "name": "Nightjar", "supplies": (b.supply("S1", b.outlet("1")),)}
    return b.wired_board(*pedals, **(values | changes))


def with_place(plan: BoardPlan, ref: str, place: Place | None) -> BoardPlan:
    return replace(plan, pedals=tuple(replace(p, place=place) if p.ref == ref else p for p in plan.pedals))


def drawn(before: BoardPlan, after: BoardPlan, **how: object) -> ElementTree.Element:
    return ElementTree.fromstring(draw_comparison(before, after, **how))


def signs(root: ElementTree.Element) -> list[str]:
    """Letters at parts: the key says each letter once more."""
    key = next(g for g in root.iter(f"{SVG}g") if g.get("class") == "d-key")
    told = [t.text for t in key.iter(f"{SVG}text") if t.get("class") == "d-sign"]
    found = [t.text for t in root.iter(f"{SVG}text") if t.get("class") == "d-sign"]
    for letter in told:
        found.remove(letter)
    return found


def key_words(root: ElementTree.Element) -> str:
    key = next(g for g in root.iter(f"{SVG}g") if g.get("class") == "d-key")
    return " | ".join(t.text for t in key.iter(f"{SVG}text"))


def ghosts(root: ElementTree.Element) -> dict[str, ElementTree.Element]:
    return {r.get("data-was"): r for r in root.iter(f"{SVG}rect") if r.get("data-was")}


def paths(root: ElementTree.Element, name: str) -> list[ElementTree.Element]:
    return [one for one in root.iter() if name in one.get("class", "").split()]


def test_nothing_changed() -> None:
    root = drawn(two_pedals(), two_pedals())
    assert signs(root) == []
    assert ghosts(root) == {}
    assert key_words(root) == "Nothing changed that a drawing shows"


def test_a_moved_pedal_leaves_a_dashed_ghost_of_its_size_and_an_arrow() -> None:
    before = two_pedals()
    root = drawn(before, with_place(before, "P1", Place(200, 150)))
    (ghost,) = ghosts(root).values()
    assert signs(root) == ["M"]
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
    assert signs(root) == ["M"]
    assert paths(root, "d-move") == []


def test_a_removed_pedal_is_a_ghost_with_its_ref() -> None:
    before = two_pedals()
    after = replace(before, pedals=before.pedals[:1], links=before.links[:1])
    root = drawn(before, after)
    assert list(ghosts(root)) == ["P2"]
    assert "G P2" in [t.text for t in root.iter(f"{SVG}text")]
    assert key_words(root).startswith("G | gone")


def test_a_new_pedal_has_a_double_outline_and_no_other_sign() -> None:
    after = two_pedals()
    before = replace(after, pedals=after.pedals[:1], links=after.links[:1])
    root = drawn(before, after)
    assert signs(root) == ["N"]
    assert len(paths(root, "d-new")) == 1


def test_fed_and_wired_otherwise() -> None:
    before = two_pedals()
    fed = replace(before, feeds=(b.feed("S1.1", "P2.DC"),))
    assert signs(drawn(before, fed)) == ["F"]
    rewired = replace(before, links=b.chain("G1", "P2", "P1", "A1"))
    assert set(signs(drawn(before, rewired))) == {"W"}


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
