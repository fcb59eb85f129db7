"""Cut plans: reels opened beside those of longest-first, and how long the plan took.

Longest-first is what a person does with a saw: the longest piece that is left goes where the least is left.
"""

import statistics
import time
from collections.abc import Iterator
from pathlib import Path

from boardshop.core.cables.cut_plan import plan_cuts
from boardshop.core.plan import BoardPlan, CableType, Frame, Piece, Rules, StockLength

INSTANCES = Path(__file__).resolve().parents[2] / "tests" / "core" / "published" / "binpack1.txt"
"""OR-Library (J. E. Beasley), bin packing, file binpack1, each with the fewest bins published."""


def bench_cuts(seconds: float = 2.0) -> None:
    """Prints a line for each published instance; ``seconds`` is the work of the report's own plan."""
    print(f"cut plans, 120 pieces each, work of {seconds:g} s: reels")
    print("  instance  published  longest-first   ours   bound  all five aims        s")
    times = []
    for name, length, fewest, pieces in read_instances():
        plan = _board(length, pieces)
        began = time.perf_counter()
        found = plan_cuts(plan, seconds)
        times.append(time.perf_counter() - began)
        proved = "proved" if found.optimal else "not proved"
        print(
            f"  {name:9}{fewest:10}{cut_longest_first(length, pieces):15}{len(found.used):7}{found.bound:8}"
            f"  {proved:14}{times[-1]:8.2f}"
        )
    median, most = statistics.median(times), max(times)
    print(f"  median {median:.2f} s (aim: under 2), most {most:.2f} s (aim: under 10)")


def read_instances() -> Iterator[tuple[str, int, int, list[int]]]:
    """Name, length of a reel, fewest reels, pieces."""
    for line in INSTANCES.read_text("utf-8").splitlines():
        if not line.startswith("#"):
            name, length, fewest, *pieces = line.split()
            yield name, int(length), int(fewest), [int(piece) for piece in pieces]


def cut_longest_first(length: int, pieces: list[int]) -> int:
    """How many reels longest-first opens; each piece goes where the least is left."""
    left: list[int] = []
    for piece in sorted(pieces, reverse=True):
        fitting = [room for room in left if room >= piece]
        if fitting:
            left.remove(min(fitting))
        left.append((min(fitting) if fitting else length) - piece)
    return len(left)


def _board(length: int, pieces: list[int]) -> BoardPlan:
    return BoardPlan(
        Frame(600, 320),
        cables=(CableType("C1"),),
        pieces=tuple(Piece(f"X{n}", "C1", mm) for n, mm in enumerate(pieces, start=1)),
        stock=(StockLength("C1", length, len(pieces)),),
        rules=Rules(kerf_mm=0),
    )
