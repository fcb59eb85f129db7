"""Boards of plain square pedals, for packings that others have published."""

import json
from pathlib import Path
from typing import Any

type Json = dict[str, Any]

PUBLISHED: Json = json.loads((Path(__file__).parent / "published" / "rectangles.json").read_text("utf-8"))


def board_of_squares(width: int, depth: int, sides: list[int]) -> Json:
    """Bodies only: no jacks, no gap."""
    pedals = [{"ref": f"P{side}", "kind": "other", "width": side, "depth": side} for side in sides]
    frame = {"width": width, "depth": depth}
    return {"format": "boardshop-board", "version": 1, "frame": frame, "pedals": pedals} | {
        "rules": {"gap_mm": 0, "plug_gap_mm": 0}
    }


def squared_square() -> tuple[Json, Json]:
    """The perfect squared square of order 21 as a board, and the places that its code says."""
    side, code = PUBLISHED["squared_square"]["side"], PUBLISHED["squared_square"]["bouwkamp"]
    level, places = [0] * side, {}
    for group in code:
        for square in group:
            y = min(level)
            x = level.index(y)
            places[f"P{square}"] = {"x": x, "y": y, "turn": 0}
            level[x : x + square] = [y + square] * square
    return board_of_squares(side, side, sorted(square for group in code for square in group)), places
