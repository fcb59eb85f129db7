"""What an edit costs: pedals moved, jacks connected, the order changed, on the largest demo board.

No edit brings the board to a state that it has been in before, since what is kept of a plan would answer
then; what has to be made ready for the next edit is done off the clock.
"""

import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any

from django.db import connection
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from boardshop.boards.models import Board, Link
from boardshop.boards.plan.read import load_plan

ROUNDS = 15
FRAGMENT = {"HX-Request": "true"}
CONNECTED, MADE = "W5", "W9"
FED = "P13.DC"


@dataclass(frozen=True)
class Cost:
    """Medians of one kind of edit; the size is that of the answer's text."""

    ms: float
    processor_ms: float
    queries: int
    kb: float


class Editor:
    """Somebody who edits one board as htmx does, every time from the state that the last answer showed."""

    def __init__(self, browser: Client, board: Board) -> None:
        self.browser, self.board, self.round = browser, board, 0

    def _post(self, verb: str, *named: str, **typed: Any) -> Any:
        address = reverse(verb, args=[self.board.code, *named])
        answer = self.browser.post(address, {"edit": self.edit_number, **typed}, headers=FRAGMENT)
        assert answer.status_code == 200, answer.text[:400]
        return answer

    def ready(self) -> None:
        """What every edit needs: the number of the state that the page shows."""
        self.round += 1
        self.edit_number = Board.objects.values_list("edit_number", flat=True).get(pk=self.board.pk)

    def _spot(self, x: int, y: int) -> tuple[int, int]:
        """Another place near this one in every round."""
        return x + self.round % 7, y + self.round // 7 % 12

    def place_by_field(self) -> Any:
        x, y = self._spot(470, 14)
        return self._post("place-pedal", "P5", x=x, y=y, turn=0)

    def release_one(self) -> Any:
        x, y = self._spot(490, 20)
        return self._post("place-bodies", place=[f"P5={x},{y},0"], open="P5")

    def release_two(self) -> Any:
        (x, y), (beside, _) = self._spot(490, 20), self._spot(380, 20)
        return self._post("place-bodies", place=[f"P5={x},{y},0", f"P6={beside},{y},0"], open="P5 P6")

    def try_drag(self) -> Any:
        x, y = self._spot(480, 16)
        address = reverse("try-places", args=[self.board.code])
        answer = self.browser.get(address, {"place": f"P5={x},{y},0"}, headers=FRAGMENT)
        assert answer.status_code == 200, answer.text[:400]
        return answer

    def move_in_line(self) -> Any:
        return self._post("move-pedal", "P13", line=0, position=1 + (11 * self.round) % 18)

    def ready_to_connect(self) -> None:
        """Its cable pulled, and a pedal moved a little so that the board is a new one."""
        self.ready()
        self.place_by_field()
        self.ready()
        self.pulled = self._columns(CONNECTED)
        self._post("remove-link", CONNECTED)
        self.ready()

    def connect(self) -> Any:
        return self._post("connect-jacks", ref=CONNECTED, **self.pulled)

    def ready_to_change(self) -> None:
        self.ready()
        self.changed = self._columns(MADE)

    def change_link(self) -> Any:
        return self._post("change-link", MADE, **self.changed | {"made": 300 + self.round})

    def feed(self) -> Any:
        return self._post("feed-pedal", FED, outlet="S2.4@", length=300 + self.round)

    def _columns(self, ref: str) -> dict[str, Any]:
        """A link's columns as its form sends them."""
        link = next(one for one in load_plan(self.board).links if one.ref == ref)
        row = Link.objects.get(board=self.board, ref=ref)
        types = {"cable": row.cable_id, "plug_from": row.plug_from_id, "plug_to": row.plug_to_id}
        columns = {"source": link.source, "target": link.target, "route": link.route, "screen": link.screen}
        return columns | {name: key or "" for name, key in types.items()}

    def edits(self) -> dict[str, tuple[Callable[[], None], Callable[[], Any]]]:
        """By its words each kind of edit, with what makes it ready."""
        return {
            "a pedal moved by its fields": (self.ready, self.place_by_field),
            "a pedal let go after a drag": (self.ready, self.release_one),
            "two pedals let go": (self.ready, self.release_two),
            "drag: what would be": (self.ready, self.try_drag),
            "a pedal moved in the order": (self.ready, self.move_in_line),
            "two jacks connected": (self.ready_to_connect, self.connect),
            "a link's length changed": (self.ready_to_change, self.change_link),
            "a pedal fed": (self.ready, self.feed),
        }


def bench_edits(browser: Client, board: Board) -> None:
    """Prints the median ms by the clock and by the processor, the queries and the size of each answer."""
    print(f"edits, 18 pedals, fragments: {'ms':>24}{'processor':>11}{'queries':>9}{'kB':>6}")
    for words, (ready, edit) in Editor(browser, board).edits().items():
        cost = measure_edit(ready, edit)
        print(f"  {words:32}{cost.ms:19.1f}{cost.processor_ms:11.1f}{cost.queries:9}{cost.kb:6.0f}")
    print("  (at most 150 ms for an edit, 100 ms for a drag's fragment)")


def measure_edit(ready: Callable[[], None], edit: Callable[[], Any], rounds: int = ROUNDS) -> Cost:
    """The medians of so many edits, after two that are not counted."""
    clock, processor = [], []
    for _ in range(2 + rounds):
        ready()
        began, worked = time.perf_counter(), time.process_time()
        answer = edit()
        processor.append((time.process_time() - worked) * 1000)
        clock.append((time.perf_counter() - began) * 1000)
    ready()
    with CaptureQueriesContext(connection) as captured:
        edit()
    kb = len(answer.content) / 1000
    return Cost(statistics.median(clock[2:]), statistics.median(processor[2:]), len(captured), kb)
