"""Small boards drawn by lot for placing, with everything recorded that a placing rests on."""

from random import Random
from typing import Any

from boardshop.core.placing.answers import Wishes
from boardshop.core.placing.proposal import propose_layout
from tests.core.documents import load
from tests.core.placing_checker import list_violations

type Json = dict[str, Any]

SIZES = [(45, 95), (62, 112), (73, 130), (95, 121), (120, 125), (145, 121)]
PLUGS = [
    {"ref": "J1", "connector": "6.35 TS", "reach": 13, "width": 23},
    {"ref": "J2", "connector": "6.35 TS", "reach": 22, "width": 16},
    {"ref": "J3", "connector": "6.35 TS", "reach": 50, "width": 15},
    {"ref": "JD", "connector": "barrel 5.5/2.1", "reach": 14, "width": 11},
]


def draw_placing_board(number: int, most: int = 10) -> Json:
    """The board file of a number; roomy or crowded, with any of the things that bind a place."""
    dice = Random(number)
    pedals = [_draw_pedal(dice, f"P{n}") for n in range(1, dice.randint(0, most) + 1)]
    frame = _draw_frame(dice, sum(pedal["width"] * pedal["depth"] for pedal in pedals))
    document: Json = {"format": "boardshop-board", "version": 1, "frame": frame, "pedals": pedals}
    document |= {"plugs": PLUGS, "sources": [{"ref": "G1"}], "amps": [{"ref": "A1"}]}
    document |= {"links": _draw_links(dice, pedals), "feeds": _draw_feeds(dice, pedals)}
    document |= {"supplies": [_draw_supply(dice, frame, len(pedals))], "rules": _draw_rules(dice)}
    _draw_pairs(dice, pedals)
    for pedal in pedals:
        _draw_place(dice, document, pedal)
    return document


def _draw_pedal(dice: Random, ref: str) -> Json:
    width, depth = dice.choice(SIZES)
    in_side, out_side = dice.choice(
        [("right", "left"), ("rear", "rear"), ("front", "left"), ("left", "rear")]
    )
    jacks = [
        _jack("IN", "in", in_side, width, depth, dice.uniform(0.6, 0.8)),
        _jack("OUT", "out", out_side, width, depth, dice.uniform(0.2, 0.4)),
        _jack("DC", "power", "rear", width, depth, 0.5),
    ]
    for jack in jacks:
        jack["height"] = dice.choice([None, 12, 20, 28, 35])
    switches = [{"x": width // 2, "y": depth // 5}]
    if width > 100:
        switches = [{"x": width // 5, "y": depth // 6}, {"x": width * 4 // 5, "y": depth // 6}]
    pedal: Json = {"ref": ref, "kind": dice.choice(["boost", "delay", "wah"]), "width": width, "depth": depth}
    pedal |= {
        "jacks": jacks,
        "switches": dice.choice([switches, switches, []]),
        "height": dice.choice([50, 60]),
    }
    pedal["turns"] = dice.choice([[0], [0], [0, 180], [0, 90, 180, 270], [90]])
    return pedal | {"use": dice.randint(0, 5), "treadle": dice.random() < 0.08, "with": []}


def _jack(name: str, role: str, side: str, width: int, depth: int, part: float) -> Json:
    along = width if side in ("front", "rear") else depth
    return {"name": name, "role": role, "side": side, "offset": int(along * part)}


def _draw_frame(dice: Random, bodies: int) -> Json:
    depth = dice.choice([145, 300, 330, 400])
    filled = dice.choice([0.3, 0.45, 0.6, 0.75])
    frame: Json = {"width": max(200, int(bodies / filled / depth)), "depth": depth}
    if dice.random() < 0.2:
        frame["keepouts"] = [
            {"x": dice.randint(0, 150), "y": dice.choice([0, depth - 40]), "width": 50, "depth": 40}
        ]
    if depth >= 300 and dice.random() < 0.3:
        split = depth // 2
        frame["tiers"] = [
            {"from": 0, "to": split, "height": 0},
            {"from": split, "to": depth, "height": dice.choice([0, 50])},
        ]
        frame["lid"] = dice.choice([105, 120])
    if dice.random() < 0.4:
        frame["in"], frame["out"] = {"x": frame["width"], "y": depth // 2}, {"x": 0, "y": depth // 3}
    return frame


def _draw_links(dice: Random, pedals: list[Json]) -> list[Json]:
    """A line through all, at times with a link left out."""
    ends = ["G1.OUT", *(f"{p['ref']}.{name}" for p in pedals for name in ("IN", "OUT")), "A1.IN"]
    plugs = dice.choice([["J1"], ["J2"], ["J1", "J2"], ["J1", "J2", "J3"]])
    return [
        {"ref": f"W{n}", "from": a, "to": b, "plug_from": dice.choice(plugs), "plug_to": dice.choice(plugs)}
        for n, (a, b) in enumerate(zip(ends[::2], ends[1::2], strict=True))
        if dice.random() < 0.9
    ]


def _draw_feeds(dice: Random, pedals: list[Json]) -> list[Json]:
    fed = [pedal["ref"] for pedal in pedals if dice.random() < 0.8]
    return [{"from": f"S1.{ref[1:]}", "to": f"{ref}.DC", "lead": {"plug": "JD"}} for ref in fed]


def _draw_supply(dice: Random, frame: Json, outlets: int) -> Json:
    supply: Json = {"ref": "S1", "outlets": [{"name": str(n + 1)} for n in range(outlets)]}
    if dice.random() < 0.25:
        place = {"x": frame["width"] - 130, "y": frame["depth"] - 70, "turn": 0, "under": dice.random() < 0.3}
        supply |= {"width": 130, "depth": 60, "height": 40, "place": place}
    return supply


def _draw_rules(dice: Random) -> Json:
    none: Json = {"gap_mm": 0, "plug_gap_mm": 0, "switch_gap_mm": 0, "switch_min_mm": 0}
    return dice.choice([{}, {}, none, {"switch_gap_mm": 65, "gap_mm": 2}])


def _draw_pairs(dice: Random, pedals: list[Json]) -> None:
    with_switches = [pedal for pedal in pedals if pedal["switches"] and not pedal["treadle"]]
    if len(with_switches) >= 2 and dice.random() < 0.25:
        one, other = dice.sample(with_switches, 2)
        one["with"] = [other["ref"]]


def _draw_place(dice: Random, document: Json, pedal: Json) -> None:
    """One pedal in ten is pinned, where it breaks nothing beside those pinned before."""
    frame = document["frame"]
    place = {
        "x": dice.randint(0, frame["width"]),
        "y": dice.randint(0, 200),
        "turn": dice.choice(pedal["turns"]),
    }
    pinned = {other["ref"]: other["place"] for other in document["pedals"] if other.get("pinned")}
    if dice.random() < 0.3 and not list_violations(document, pinned | {pedal["ref"]: place}):
        pedal |= {"place": place, "pinned": True}


def place(document: Json, seconds: int = 1, seed: int = 0) -> Json:
    """What the program answers, as it prints it."""
    placing = propose_layout(load(document), Wishes(seconds=seconds, seed=seed))
    places = {ref: {"x": spot.x, "y": spot.y, "turn": spot.turn} for ref, spot in placing.places}
    answer = {"places": places, "left_out": list(placing.left_out), "why": placing.why}
    return answer | {"score": placing.score, "total_mm": placing.total_mm, "optimal": placing.optimal}
