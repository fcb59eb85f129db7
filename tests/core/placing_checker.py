"""Checks a printed placing against the words of the board file alone; imports nothing of the program.

Everything is worked out anew from plain JSON: where bodies, plugs and switches come to stand, which rule of
placing they break, what the score is.  A size that is not recorded leaves out what would rest on it.
"""

from dataclasses import dataclass
from itertools import combinations
from typing import Any, NamedTuple

type Json = dict[str, Any]

HEIGHT_APART_MM, TREADLE_MM, IN_LINE_MM = 15, 20, 20
DEFAULTS: Json = {
    "gap_mm": 4,
    "plug_gap_mm": 2,
    "switch_gap_mm": 75,
    "switch_min_mm": 60,
    "together_mm": [75, 130],
}


class Rect(NamedTuple):
    left: int
    front: int
    right: int
    rear: int


@dataclass
class Plug:
    pedal: str
    end: str
    rect: Rect
    tip: tuple[int, int]
    height: int | None


def judge(document: Json, answer: Json) -> list[str]:
    """All that is wrong with an answer of `layout`: rules broken, pedals unnamed, sums that differ."""
    named = [*answer["places"], *answer["left_out"]]
    refs = [pedal["ref"] for pedal in document.get("pedals") or ()]
    wrong = [] if sorted(named) == sorted(refs) else [f"pedals: {sorted(named)} for {sorted(refs)}"]
    wrong += list_violations(document, answer["places"])
    score, total_mm = measure(document, answer["places"])
    if (answer["score"], answer["total_mm"]) != (score, total_mm):
        wrong.append(f"sums: says {answer['score']}, {answer['total_mm']}; is {score}, {total_mm}")
    return wrong


def measure(document: Json, places: Json) -> tuple[int, int]:
    """The score and the cable in mm, over links with both ends known and switches on placed pedals."""
    scene = _Scene(document, places)
    cable = 0
    for link in document.get("links") or ():
        one, other = (
            scene.tip(link["from"], link.get("plug_from")),
            scene.tip(link["to"], link.get("plug_to")),
        )
        if one and other:
            cable += abs(one[0] - other[0]) + abs(one[1] - other[1])
    steps = sum(
        (pedal.get("use") or 0) * min(y for _, y in scene.switches[ref])
        for ref, pedal in scene.standing.items()
        if scene.switches[ref]
    )
    return 4 * cable + steps, cable


def list_violations(document: Json, places: Json) -> list[str]:
    """The rules of placing that these places break, one line each, beginning with the rule's word."""
    scene = _Scene(document, places)
    return [
        *_own_places(scene),
        *_bodies(scene),
        *_plugs(scene),
        *_treadles(scene),
        *_switches(scene),
        *_pairs(scene),
    ]


class _Scene:
    """What stands where."""

    def __init__(self, document: Json, places: Json) -> None:
        self.document, self.frame = document, document["frame"]
        self.rules = DEFAULTS | {k: v for k, v in (document.get("rules") or {}).items() if v is not None}
        self.outline = Rect(0, 0, self.frame["width"], self.frame["depth"])
        self.pedals = {_fold(pedal["ref"]): pedal for pedal in document.get("pedals") or ()}
        self.places = {_fold(ref): place for ref, place in places.items()}
        self.standing = {ref: pedal for ref, pedal in self.pedals.items() if ref in self.places}
        self.kinds = {_fold(plug["ref"]): plug for plug in document.get("plugs") or ()}
        self.bodies = {ref: _lay(pedal, self.places[ref]) for ref, pedal in self.standing.items()}
        self.switches = {
            ref: [_put(pedal, self.places[ref], s["x"], s["y"]) for s in pedal.get("switches") or ()]
            for ref, pedal in self.standing.items()
        }
        self.things = dict(self.bodies)
        for supply in document.get("supplies") or ():
            place = supply.get("place")
            if place and not place.get("under") and supply.get("width") and supply.get("depth"):
                self.things[_fold(supply["ref"])] = _lay(supply, place)
        keepouts = self.frame.get("keepouts") or ()
        self.keepouts = [Rect(k["x"], k["y"], k["x"] + k["width"], k["y"] + k["depth"]) for k in keepouts]
        self.plugs = [plug for end, kind in self._uses() if (plug := self._plug(end, kind)) and plug.rect]

    def tip(self, end: str, kind: str | None) -> tuple[int, int] | None:
        """Where a link's cable leaves the plug at this end."""
        ref = _fold(end).split(".")[0]
        if ref in {_fold(source["ref"]) for source in self.document.get("sources") or ()}:
            spot = self.frame.get("in") or {"x": self.outline.right, "y": self.outline.rear}
            return spot["x"], spot["y"]
        if ref in {_fold(amp["ref"]) for amp in self.document.get("amps") or ()}:
            spot = self.frame.get("out") or {"x": 0, "y": self.outline.rear}
            return spot["x"], spot["y"]
        plug = self._plug(end, kind)
        return plug.tip if plug else None

    def _uses(self) -> list[tuple[str, str | None]]:
        uses = []
        for link in self.document.get("links") or ():
            uses += [(link["from"], link.get("plug_from")), (link["to"], link.get("plug_to"))]
        for feed in self.document.get("feeds") or ():
            ends = feed["to"] if isinstance(feed["to"], list) else [feed["to"]]
            uses += [(end, (feed.get("lead") or {}).get("plug")) for end in ends]
        return uses

    def _plug(self, end: str, kind: str | None) -> Plug | None:
        ref, name = _fold(end).split(".", 1)
        pedal, plug = self.standing.get(ref), self.kinds.get(_fold(kind or ""))
        jacks = [jack for jack in (pedal or {}).get("jacks") or () if _fold(jack["name"]) == name]
        if not pedal or not plug or not jacks or plug.get("reach") is None:
            return None
        jack = jacks[0]
        if jack.get("side") is None or jack.get("offset") is None:
            return None
        wide = -(-(plug.get("width") or 0) // 2)
        a, b, tip = _stand_out(pedal, jack, plug["reach"], wide)
        corners = [_put(pedal, self.places[ref], *corner) for corner in (a, b)]
        rect = _span(corners) if plug.get("width") else None
        return Plug(ref, end, rect, _put(pedal, self.places[ref], *tip), jack.get("height"))


def _own_places(scene: _Scene) -> list[str]:
    wrong = []
    for ref, place in scene.places.items():
        pedal = scene.pedals.get(ref)
        if pedal is None:
            wrong.append(f"pedals: no {ref}")
        elif pedal.get("pinned") and pedal.get("place"):
            if place != pedal["place"]:
                wrong.append(f"pinned: {ref}")
        elif place["turn"] not in (pedal.get("turns") or [0]):
            wrong.append(f"turn: {ref} {place['turn']}")
    return wrong


def _bodies(scene: _Scene) -> list[str]:
    wrong = []
    tiers = scene.frame.get("tiers") or [{"from": 0, "to": scene.outline.rear, "height": 0}]
    for ref, body in scene.bodies.items():
        if _room(body, scene.outline) < 0:
            wrong.append(f"frame: {ref}")
        under = [tier for tier in tiers if tier["from"] <= body.front and body.rear <= tier["to"]]
        if not under:
            wrong.append(f"tier: {ref}")
        lid, height = scene.frame.get("lid"), scene.pedals[ref].get("height")
        if under and None not in (lid, height) and height + max(t.get("height") or 0 for t in under) > lid:
            wrong.append(f"lid: {ref}")
        wrong += [f"keepout: {ref}" for keepout in scene.keepouts if _gap(body, keepout) < 0]
    for (one, a), (other, b) in combinations(scene.things.items(), 2):
        if _gap(a, b) < scene.rules["gap_mm"] and (one in scene.bodies or other in scene.bodies):
            wrong.append(f"gap: {one} {other}")
    return wrong


def _plugs(scene: _Scene) -> list[str]:
    gap, wrong = scene.rules["plug_gap_mm"], []
    for plug in scene.plugs:
        if _room(plug.rect, scene.outline) < gap:
            wrong.append(f"plug at the edge: {plug.end}")
        wrong += [f"plug at a keepout: {plug.end}" for kept in scene.keepouts if _gap(plug.rect, kept) < gap]
        for ref, body in scene.things.items():
            if ref != plug.pedal and _gap(plug.rect, body) < gap:
                wrong.append(f"plug at a body: {plug.end} {ref}")
    for one, other in combinations(scene.plugs, 2):
        if one.pedal == other.pedal or _gap(one.rect, other.rect) >= gap:
            continue
        if None in (one.height, other.height) or abs(one.height - other.height) < HEIGHT_APART_MM:
            wrong.append(f"plug at a plug: {one.end} {other.end}")
    return wrong


def _treadles(scene: _Scene) -> list[str]:
    """A treadle's own plugs are its own affair; nothing of any other may lie before it."""
    wrong = []
    for ref, pedal in scene.standing.items():
        if not pedal.get("treadle"):
            continue
        body = scene.bodies[ref]
        if body.front > TREADLE_MM:
            wrong.append(f"treadle: {ref} {body.front}")
        before = Rect(body.left, 0, body.right, body.front)
        others = [(other, rect) for other, rect in scene.things.items() if other != ref]
        others += [(plug.end, plug.rect) for plug in scene.plugs if plug.pedal != ref]
        others += [("a keepout", rect) for rect in scene.keepouts]
        if body.front > 0:
            wrong += [f"before a treadle: {ref} {other}" for other, rect in others if _gap(before, rect) < 0]
    return wrong


def _switches(scene: _Scene) -> list[str]:
    least = max(scene.rules["switch_gap_mm"], scene.rules["switch_min_mm"])
    return [
        f"switches: {one} {other}"
        for one, other in combinations(scene.standing, 2)
        for a in scene.switches[one]
        for b in scene.switches[other]
        if max(abs(a[0] - b[0]), abs(a[1] - b[1])) < least
    ]


def _pairs(scene: _Scene) -> list[str]:
    low, high = scene.rules["together_mm"]
    wanted = {
        tuple(sorted((ref, _fold(other))))
        for ref, pedal in scene.standing.items()
        for other in pedal.get("with") or ()
        if _fold(other) != ref
    }
    wrong = []
    for one, other in sorted(wanted):
        apart = [
            (abs(a[0] - b[0]), abs(a[1] - b[1]))
            for a in scene.switches.get(one, ())
            for b in scene.switches.get(other, ())
        ]
        nearest = min(map(max, apart), default=0)
        if apart and not any(low <= x <= high and y <= IN_LINE_MM for x, y in apart if max(x, y) == nearest):
            wrong.append(f"pair: {one} {other}")
    return wrong


def _stand_out(pedal: Json, jack: Json, reach: int, wide: int) -> list[tuple[int, int]]:
    """Two opposite corners of a plug on the unturned pedal, and the middle of its outer end."""
    at, width, depth = jack["offset"], pedal["width"], pedal["depth"]
    match jack["side"]:
        case "left":
            return [(0, at - wide), (-reach, at + wide), (-reach, at)]
        case "right":
            return [(width, at - wide), (width + reach, at + wide), (width + reach, at)]
        case "front":
            return [(at - wide, 0), (at + wide, -reach), (at, -reach)]
        case _:
            return [(at - wide, depth), (at + wide, depth + reach), (at, depth + reach)]


def _put(box: Json, place: Json, x: int, y: int) -> tuple[int, int]:
    """A point of the unturned box on the frame: a quarter turn at a time, each counter-clockwise."""
    width, depth = box["width"], box["depth"]
    for _ in range(place["turn"] // 90):
        x, y, width, depth = depth - y, x, depth, width
    return place["x"] + x, place["y"] + y


def _lay(box: Json, place: Json) -> Rect:
    return _span([_put(box, place, 0, 0), _put(box, place, box["width"], box["depth"])])


def _span(corners: list[tuple[int, int]]) -> Rect:
    xs, ys = zip(*corners, strict=True)
    return Rect(min(xs), min(ys), max(xs), max(ys))


def _gap(one: Rect, other: Rect) -> int:
    """Free mm between the two, along the axis that parts them more; below 0 where they overlap."""
    return max(one.left - other.right, other.left - one.right, one.front - other.rear, other.front - one.rear)


def _room(inner: Rect, outer: Rect) -> int:
    """From the inner one to the nearest edge of the outer; below 0 where it sticks out."""
    return min(
        inner.left - outer.left, outer.right - inner.right, inner.front - outer.front, outer.rear - inner.rear
    )


def _fold(name: str) -> str:
    return name.casefold()
