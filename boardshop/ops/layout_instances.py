"""Boards drawn by lot for placing: what the bench measures on and the tests place.

A number of pedals, the share of the frame that their bodies fill, and a seed make one board file.
The draws and their sequence are fixed, since best known scores are kept for these very boards.
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass, field
from random import Random
from typing import Any

type Document = dict[str, Any]

NUMBERS = (8, 12, 16, 20, 24)
FILLS = (0.55, 0.65, 0.75)

FACES = ((("right", "IN"), ("left", "OUT")), (("rear", "IN"), ("rear", "OUT")))
AUDIO, POWER = "6.35 TS", "barrel 5.5/2.1"
PLUGS: dict[str, Document] = {
    "J22": {"connector": AUDIO, "reach": 22, "width": 16, "inside": 12},
    "J35": {"connector": AUDIO, "reach": 35, "width": 16, "inside": 20},
    "JD": {"connector": POWER, "reach": 15, "width": 10, "inside": 15},
}


@dataclass(frozen=True)
class Make:
    """A size of pedal, and how likely it is to be one of several sorts."""

    kind: str
    width: int
    depth: int
    switch: tuple[int, int]
    share: int
    """Of a hundred pedals."""
    turnable: float
    turns: tuple[int, ...]
    side_jacks: float


RULES = {
    "gap_mm": 0,
    "plug_gap_mm": 0,
    "switch_gap_mm": 55,
    "switch_min_mm": 55,
    "together_mm": [60, 110],
}
ALL_WAYS = (0, 90, 180, 270)
MAKES = (
    Make("boost", 45, 95, (22, 18), 26, 0.6, ALL_WAYS, 0.5),
    Make("overdrive", 73, 130, (36, 25), 43, 0.4, ALL_WAYS, 0.55),
    Make("delay", 100, 120, (50, 20), 18, 0.4, ALL_WAYS, 0.4),
    Make("reverb", 145, 120, (72, 20), 13, 0.25, (0, 180), 0.15),
)
SMALL, STANDARD, MEDIUM, LARGE = MAKES
TREADLE = Make("wah", 100, 250, (50, 200), 0, 0.0, (0,), 1.0)


@dataclass
class Drawn:
    make: Make
    turns: tuple[int, ...]
    jacks: list[Document]
    use: int = 0
    plugs: dict[str, str] = field(default_factory=dict)
    """The plug type in each jack, by the jack's name."""
    partner: int | None = None
    pinned: tuple[int, int] | None = None


def draw_board(number: int, fill: float, seed: int) -> Document:
    """The board file of one instance; the same arguments give the same board."""
    dice = Random(f"{number}-{fill}-{seed}")  # noqa: S311 - a lot, no secret
    pedals = [_draw_pedal(dice, make) for make in _draw_makes(dice, number)]
    loop = _draw_loop(dice, pedals)
    depth = _draw_depth(dice, number)
    handle, reserved = dice.random() < 0.15, dice.random() < 0.2
    area = sum(one.make.width * one.make.depth for one in pedals)
    extra = 2500 * handle + STANDARD.width * STANDARD.depth * reserved
    width = math.ceil((area / fill + extra) / depth / 10) * 10
    frame = _frame(width, depth)
    if handle:
        corner = {"x": dice.randrange(0, width - 50, 10), "y": depth - 50}
        frame["keepouts"] = [corner | {"width": 50, "depth": 50, "why": "handle"}]
    if depth == 400 and dice.random() < 0.3:
        frame["tiers"] = [{"from": 0, "to": 255, "height": 0}, {"from": 255, "to": 400, "height": 0}]
    _draw_pairs(dice, pedals)
    _draw_pin(dice, pedals, width)
    return _document(frame, pedals, list(_list_links(pedals, loop)))


def effective_fill(document: Document) -> float:
    """Bodies, plugs in use and keep-outs over the frame's area: what decides whether all of it fits."""
    plugs = {plug["ref"]: plug["reach"] * plug["width"] for plug in document["plugs"]}
    links = [
        link[f"plug_{end}"] for link in document["links"] for end in ("from", "to") if link[end][0] == "P"
    ]
    feeds = [feed["lead"]["plug"] for feed in document["feeds"]]
    boxes = [*document["pedals"], *document["frame"]["keepouts"]]
    taken = sum(box["width"] * box["depth"] for box in boxes) + sum(plugs[ref] for ref in links + feeds)
    return float(taken / (document["frame"]["width"] * document["frame"]["depth"]))


def _draw_makes(dice: Random, number: int) -> list[Make]:
    treadle = number >= 12 and dice.random() < 0.6
    treadle = treadle or dice.random() < 0.25
    makes = [TREADLE] * treadle
    makes += dice.choices(MAKES, [make.share for make in MAKES], k=number - len(makes))
    dice.shuffle(makes)
    return makes


def _draw_pedal(dice: Random, make: Make) -> Drawn:
    turns = make.turns if dice.random() < make.turnable else (0,)
    at_sides = dice.random() < make.side_jacks
    drawn = Drawn(make, turns, [])
    inset = max(9, make.width // 5)
    for (side, name), middle in zip(FACES[not at_sides], (make.width - inset, inset), strict=True):
        offset = int(0.68 * make.depth) + dice.choice([-8, 0, 0, 8]) if at_sides else middle
        _add_jack(drawn, name, side, offset, "J22" if dice.random() < 0.8 else "J35")
    power = ("right", 210) if make is TREADLE else ("rear", make.width // 2)
    _add_jack(drawn, "DC", *power, "JD")
    drawn.use = dice.choice([0, 1, 1, 2, 3, 5])
    return drawn


def _add_jack(drawn: Drawn, name: str, side: str, offset: int, plug: str) -> None:
    role, connector = ("power", POWER) if name == "DC" else (name.lower(), AUDIO)
    jack = {"name": name, "role": role, "side": side, "offset": offset, "connector": connector}
    drawn.jacks.append(jack)
    drawn.plugs[name] = plug


def _draw_loop(dice: Random, pedals: list[Drawn]) -> tuple[int, int] | None:
    """A pedal with send and return, and how many of those after it stand in its loop."""
    wide = [n for n in range(1, len(pedals) - 4) if pedals[n].make in (MEDIUM, LARGE)]
    if len(pedals) < 12 or not wide or dice.random() >= 0.4:
        return None
    owner, within = dice.choice(wide), dice.randint(1, 3)
    _add_jack(pedals[owner], "SEND", "left", 30, "J22")
    _add_jack(pedals[owner], "RETURN", "right", 30, "J22")
    return owner, within


def _draw_depth(dice: Random, number: int) -> int:
    return 300 if number <= 12 or (number == 16 and dice.random() < 0.3) else 400


def _draw_pairs(dice: Random, pedals: list[Drawn]) -> None:
    free = [n for n, one in enumerate(pedals) if one.make in (SMALL, STANDARD)]
    for _ in range(2 if len(pedals) >= 16 else 1):
        if len(free) >= 2 and dice.random() < 0.5:
            one = dice.choice(free)
            other = dice.choice([n for n in free if n != one])
            pedals[one].partner, pedals[other].partner = other, one
            free = [n for n in free if n not in (one, other)]


def _draw_pin(dice: Random, pedals: list[Drawn], width: int) -> None:
    """One in five boards has a pedal pinned into the front right corner."""
    if dice.random() >= 0.2:
        return
    free = [one for one in pedals if one.make in (SMALL, STANDARD, MEDIUM) and one.partner is None]
    if free:
        chosen = dice.choice(free)
        right = [jack["name"] for jack in chosen.jacks if jack["side"] == "right"]
        reach = max((PLUGS[chosen.plugs[name]]["reach"] for name in right), default=0)
        chosen.pinned, chosen.turns = (width - chosen.make.width - reach, 0), (0,)


def _list_links(pedals: list[Drawn], loop: tuple[int, int] | None) -> Iterator[Document]:
    """The signal's way from the instrument to the amp, out and back where a pedal has a loop."""
    ends = ["G1.OUT"]
    for n in range(len(pedals)):
        ends += [f"P{n + 1}.IN", f"P{n + 1}.OUT"]
        if loop and n == loop[0]:
            ends[-1] = f"P{n + 1}.SEND"
        if loop and n == sum(loop):
            ends += [f"P{loop[0] + 1}.RETURN", f"P{loop[0] + 1}.OUT"]
    ends.append("A1.IN")
    for n, (out, into) in enumerate(zip(ends[::2], ends[1::2], strict=True)):
        link = {"ref": f"W{n:02d}", "from": out, "to": into, "cable": "C1", "route": "top"}
        link |= {"plug_from": _plug_at(pedals, out), "plug_to": _plug_at(pedals, into)}
        yield link | ({"length": 4000} if out[0] == "G" or into[0] == "A" else {})


def _plug_at(pedals: list[Drawn], end: str) -> str:
    ref, name = end.split(".")
    return pedals[int(ref[1:]) - 1].plugs[name] if ref[0] == "P" else "J22"


def _frame(width: int, depth: int) -> Document:
    return {
        "width": width,
        "depth": depth,
        "surface": "slotted",
        "lid": 120,
        "under": {"front": 40, "rear": 70},
        "tiers": [{"from": 0, "to": depth, "height": 0}],
        "keepouts": [],
        "in": {"x": width, "y": depth * 3 // 4},
        "out": {"x": 0, "y": depth * 3 // 4},
        "weight": 3000,
    }


NEED = {
    "current": "dc",
    "nominal": 9000,
    "min": 8500,
    "max": 9500,
    "polarity": "centre-negative",
    "ground_pole": "negative",
    "connector": POWER,
    "rated": 10,
    "measured": None,
    "sag": False,
    "share": "ok",
}


def _pedal(n: int, drawn: Drawn) -> Document:
    x_y = drawn.pinned
    return {
        "ref": f"P{n + 1}",
        "name": f"Pedal {n + 1}",
        "kind": drawn.make.kind,
        "width": drawn.make.width,
        "depth": drawn.make.depth,
        "height": 55,
        "weight": 400,
        "jacks": drawn.jacks,
        "switches": [dict(zip("xy", drawn.make.switch, strict=True))],
        "treadle": drawn.make is TREADLE,
        "bypass": "true",
        "input_ohm": 1_000_000,
        "output_ohm": 1000,
        "circuit": "analog",
        "use": drawn.use,
        "with": [] if drawn.partner is None else [f"P{drawn.partner + 1}"],
        "turns": list(drawn.turns),
        "pinned": x_y is not None,
        "place": {"x": x_y[0], "y": x_y[1], "turn": 0} if x_y else None,
        "power": dict(NEED),
    }


def _document(frame: Document, pedals: list[Drawn], links: list[Document]) -> Document:
    names = [str(n + 1) for n in range(len(pedals))]
    lead = {"length": 600, "awg": 24, "connector": POWER, "plug": "JD"}
    feed = {"setting": 9000, "adapter": [], "lead": lead}
    return {
        "format": "boardshop-board",
        "version": 1,
        "name": "layout",
        "frame": frame,
        "pedals": [_pedal(n, drawn) for n, drawn in enumerate(pedals)],
        "sources": [{"ref": "G1", "output_ohm": 10_000}],
        "amps": [{"ref": "A1", "input_ohm": 1_000_000}],
        "cables": [{"ref": "C1", "pf_per_m": 95, "diameter": 4.0, "min_bend": 16, "cores": 1}],
        "plugs": [{"ref": ref} | plug for ref, plug in PLUGS.items()],
        "links": links,
        "supplies": [_supply(names)],
        "feeds": [{"from": f"S1.{name}", "to": f"P{name}.DC"} | feed for name in names],
        "stock": [],
        "accepted": [],
        "rules": RULES,
    }


def _supply(names: list[str]) -> Document:
    outlet = {"current": "dc", "polarity": "centre-negative", "connector": POWER, "group": None}
    settings = [{"mv": 9000, "max_ma": 100}]
    outlets = [outlet | {"name": name, "settings": settings} for name in names]
    size = {"width": 160, "depth": 90, "height": 35, "weight": 700}
    return {"ref": "S1", "outlets": outlets, "limit_mw": None, "class": "II"} | size
