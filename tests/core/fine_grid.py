"""Runs measured by the words of the board-file format alone, on a grid of every millimetre.

Nothing of the program is used: where plugs end, what stands in the way and what the shortest way is are
worked out anew from the document.  Least length, then fewest corners, is Dijkstra's search (SciPy) over every
(x, y, along which axis); the smallest list of corners is then read off the distances to the end.
"""

import random
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import dijkstra

type Json = dict[str, Any]
type Spot = tuple[int, int]
type Corners = list[list[int]]
type Rect = tuple[int, int, int, int]
"""Left, front, right, rear."""

STEP = 1 << 20
"""What one mm costs, a corner costing 1: no way has so many corners."""


@dataclass(frozen=True)
class Route:
    path_mm: int
    corners: Corners


def measure_link(board: Json, link: Json) -> Route | None:
    """The run of a link by the format's page; None where there is no way.  Every end must be known."""
    start, end = (_spot(board, link, key) for key in ("from", "to"))
    boxes = obstacles(board, link.get("route") or "top")
    found = shortest(start, end, boxes, _floor(board["frame"], start, end))
    if found is None:
        return None
    passes = 2 * board.get("rules", {}).get("pass_mm", 50) if link.get("route") == "under" else 0
    return Route(found.path_mm + passes, found.corners)


def obstacles(board: Json, route: str) -> list[Rect]:
    """Bodies and keep-outs on top; keep-outs, supplies and the frame's own parts under it."""
    under = route == "under"
    frame = board["frame"]
    boxes = [_upright(kept) for kept in frame.get("keepouts") or ()]
    boxes += [_upright(part) for part in (frame.get("members") or ()) if under]
    boxes += [_outline(pedal) for pedal in board["pedals"] if pedal.get("place") and not under]
    for supply in board.get("supplies") or ():
        if supply.get("place") and bool(supply["place"].get("under")) == under:
            boxes.append(_outline(supply))
    return boxes


def shortest(start: Spot, end: Spot, boxes: list[Rect], floor: Rect) -> Route | None:
    if any(x0 < x < x1 and y0 < y < y1 for x, y in (start, end) for x0, y0, x1, y1 in boxes):
        return None
    along_x, along_y = _open_steps(boxes, floor)
    costs = _costs_to(end, along_x, along_y, floor)
    least = min(costs[axis][start[0] - floor[0], start[1] - floor[1]] for axis in (0, 1))
    if not np.isfinite(least):
        return None
    return Route(int(least) // STEP, _smallest_corners(start, end, costs, (along_x, along_y), floor))


def _open_steps(boxes: list[Rect], floor: Rect) -> tuple[np.ndarray, np.ndarray]:
    """Which single steps may be taken: along_x[i, j] from (i, j) to (i + 1, j), along_y to (i, j + 1)."""
    wide, deep = floor[2] - floor[0], floor[3] - floor[1]
    along_x, along_y = np.ones((wide, deep + 1), bool), np.ones((wide + 1, deep), bool)
    for x0, y0, x1, y1 in boxes:
        left, right = np.clip([x0 - floor[0], x1 - floor[0]], 0, wide)
        front, rear = np.clip([y0 - floor[1] + 1, y1 - floor[1]], 0, deep + 1)
        along_x[left:right, front:rear] = False
        left, right = np.clip([x0 - floor[0] + 1, x1 - floor[0]], 0, wide + 1)
        front, rear = np.clip([y0 - floor[1], y1 - floor[1]], 0, deep)
        along_y[left:right, front:rear] = False
    return along_x, along_y


def _costs_to(end: Spot, along_x: np.ndarray, along_y: np.ndarray, floor: Rect) -> np.ndarray:
    """Least cost to the end from every millimetre, leaving it along x and along y."""
    wide, deep = along_x.shape[0] + 1, along_x.shape[1]
    number = np.arange(wide * deep).reshape(wide, deep)
    count = wide * deep
    from_x, to_x = number[:-1][along_x], number[1:][along_x]
    from_y, to_y = number[:, :-1][along_y] + count, number[:, 1:][along_y] + count
    turn = number.ravel()
    rows = np.concatenate([from_x, from_y, turn])
    columns = np.concatenate([to_x, to_y, turn + count])
    weights = np.concatenate([np.full(len(from_x) + len(from_y), STEP), np.ones(count)])
    graph = coo_array((weights, (rows, columns)), shape=(2 * count, 2 * count)).tocsr()
    at = number[end[0] - floor[0], end[1] - floor[1]]
    found = dijkstra(graph, directed=False, indices=[at, at + count], min_only=True)
    return found.reshape(2, wide, deep)


def _smallest_corners(
    start: Spot, end: Spot, costs: np.ndarray, steps: tuple[np.ndarray, np.ndarray], floor: Rect
) -> Corners:
    """From corner to corner the smallest one that a best way can turn at."""
    goal = (end[0] - floor[0], end[1] - floor[1])
    at = (start[0] - floor[0], start[1] - floor[1])
    best = min(costs[axis][at] for axis in (0, 1))
    axes = [axis for axis in (0, 1) if costs[axis][at] == best]
    corners: Corners = []
    while at != goal:
        reached: list[tuple[Spot, int]] = []
        for axis in axes:
            spots = _straight_on(at, axis, costs[axis], steps[axis])
            if goal in spots and costs[axis][at] % STEP == 0:
                return corners
            reached += [(spot, 1 - axis) for spot in spots if costs[1 - axis][spot] + 1 == costs[axis][spot]]
        at, axis = min(reached)
        corners.append([at[0] + floor[0], at[1] + floor[1]])
        axes = [axis]
    return corners


def _straight_on(at: Spot, axis: int, costs: np.ndarray, step_open: np.ndarray) -> list[Spot]:
    """Every millimetre that a best way can reach from here without a corner."""
    spots = []
    for way in (1, -1):
        here = at
        while True:
            there = (here[0] + way, here[1]) if axis == 0 else (here[0], here[1] + way)
            low = min(here, there)
            inside = 0 <= low[0] < step_open.shape[0] and 0 <= low[1] < step_open.shape[1]
            if not inside or not step_open[low] or costs[there] != costs[here] - STEP:
                break
            spots.append(there)
            here = there
    return spots


def _floor(frame: Json, *ends: Spot) -> Rect:
    xs, ys = [0, frame["width"], *(x for x, _ in ends)], [0, frame["depth"], *(y for _, y in ends)]
    return min(xs), min(ys), max(xs), max(ys)


def _upright(box: Json) -> Rect:
    return box["x"], box["y"], box["x"] + box["width"], box["y"] + box["depth"]


def _outline(thing: Json) -> Rect:
    place = thing["place"]
    wide, deep = thing["width"], thing["depth"]
    if place.get("turn", 0) % 180:
        wide, deep = deep, wide
    return place["x"], place["y"], place["x"] + wide, place["y"] + deep


def _spot(board: Json, link: Json, key: str) -> Spot:
    """The outer end of the plug; where the lead arrives or leaves for an instrument or an amp."""
    ref, _, name = link[key].partition(".")
    frame = board["frame"]
    if any(source["ref"] == ref for source in board.get("sources") or ()):
        point = frame.get("in") or {"x": frame["width"], "y": frame["depth"]}
        return point["x"], point["y"]
    if any(amp["ref"] == ref for amp in board.get("amps") or ()):
        point = frame.get("out") or {"x": 0, "y": frame["depth"]}
        return point["x"], point["y"]
    pedal = next(one for one in board["pedals"] if one["ref"] == ref)
    jack = next(one for one in pedal["jacks"] if one["name"] == name)
    plug = next(one for one in board["plugs"] if one["ref"] == link["plug_" + key])
    wide, deep, reach, along = pedal["width"], pedal["depth"], plug["reach"], jack["offset"]
    x, y = {
        "left": (-reach, along),
        "right": (wide + reach, along),
        "front": (along, -reach),
        "rear": (along, deep + reach),
    }[jack["side"]]
    place = pedal["place"]
    for _ in range(place.get("turn", 0) // 90):  # a quarter turn counter-clockwise about the front left
        x, y, wide, deep = deep - y, x, deep, wide
    return place["x"] + x, place["y"] + y


def random_board(number: int, width: int, depth: int, pedals: int) -> Json:
    """A small crowded board: everything a run meets, sizes and places by lot; bodies may overlap."""
    chance = random.Random(number)

    def box(least: int, most: int) -> Json:
        size = {"width": chance.randint(least, most), "depth": chance.randint(least, most)}
        at = {"x": chance.randint(0, width - size["width"]), "y": chance.randint(0, depth - size["depth"])}
        return at | size

    def placed(ref: str) -> Json:
        sized = box(6, min(width, depth) // 3)
        place = {"x": sized.pop("x"), "y": sized.pop("y"), "turn": chance.choice([0, 90, 180, 270])}
        return {"ref": ref, "place": place} | sized

    def jack(pedal: Json, name: str, role: str) -> Json:
        side = chance.choice(["left", "right", "front", "rear"])
        room = pedal["depth"] if side in ("left", "right") else pedal["width"]
        return {"name": name, "role": role, "side": side, "offset": chance.randint(0, room)}

    stands = [placed(f"P{n}") | {"kind": "overdrive"} for n in range(1, pedals + 1)]
    for pedal in stands:
        pedal["jacks"] = [jack(pedal, "IN", "in"), jack(pedal, "OUT", "out")]
    ends = ["G1", *(pedal["ref"] for pedal in stands), "A1"]
    links = [
        {"ref": f"W{n}", "from": f"{one}.OUT", "to": f"{other}.IN", "cable": "C1"}
        | {"plug_from": "J1", "plug_to": "J1", "route": chance.choice(["top", "under"])}
        for n, (one, other) in enumerate(pairwise(ends), start=1)
    ]
    supplies = [placed(f"S{n}") for n in (1, 2)]
    for supply in supplies:
        supply["place"]["under"] = chance.random() < 0.7
    frame: Json = {"width": width, "depth": depth, "surface": "slotted"}
    frame["keepouts"] = [box(2, depth // 3) for _ in range(chance.randint(0, 2))]
    frame["members"] = [box(2, depth // 2) for _ in range(chance.randint(0, 3))]
    if chance.random() < 0.3:  # a wall that may block
        frame["keepouts"].append(
            {"x": chance.randint(1, width - 4), "y": -9, "width": 3, "depth": depth + 18}
        )
    if chance.random() < 0.5:
        frame["in"] = {"x": chance.randint(0, width), "y": chance.choice([0, depth])}
    plug = {"ref": "J1", "reach": chance.randint(1, 6), "inside": 5}
    return {
        "format": "boardshop-board",
        "version": 1,
        "frame": frame,
        "pedals": stands,
        "sources": [{"ref": "G1"}],
        "amps": [{"ref": "A1"}],
        "cables": [{"ref": "C1", "pf_per_m": 100, "diameter": 1.0}],
        "plugs": [plug],
        "links": links,
        "supplies": supplies,
        "rules": {"pass_mm": chance.randint(0, 60)},
    }
