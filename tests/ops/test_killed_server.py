"""`make run` is killed with SIGKILL in the middle of writes, again and again: what was acknowledged is there.

Its own data folder, so its own PostgreSQL, which is durable as on anybody's machine.  In every other round
PostgreSQL with all its processes is killed as well.
"""

from __future__ import annotations

import http.client
import itertools
import json
import os
import random
import re
import signal
import time
from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass, field
from pathlib import Path
from threading import Event
from urllib.parse import urlencode

import psycopg
import pytest

from boardshop.ops import postgres
from boardshop.ops.processes import is_alive
from tests.ops.test_local import Local

TABS = ("", "/order", "/layout", "/cables", "/power", "/changes", "/revisions", "/variants", "/compare")
NUMBER = re.compile(r'id="edit-number" value="(\d+)"')
FORM = {"Content-Type": "application/x-www-form-urlencoded", "HX-Request": "true"}
SERIAL = itertools.count(1)


@dataclass
class Visitor:
    """A signed-in browser, as little of one as is needed; its cookies outlive the server."""

    port: int
    cookies: dict[str, str] = field(default_factory=dict)

    def ask(self, path: str, typed: dict[str, object] | None = None) -> tuple[int, str]:
        """Status and text; an OSError or HTTPException on the way acknowledges nothing."""
        connection = http.client.HTTPConnection("localhost", self.port, timeout=30)
        headers = {"Cookie": "; ".join(f"{name}={value}" for name, value in self.cookies.items())}
        try:
            if typed is None:
                connection.request("GET", path, headers=headers)
            else:
                headers |= FORM | {"X-CSRFToken": self.cookies.get("csrftoken", "")}
                connection.request("POST", path, urlencode(typed), headers)
            answer = connection.getresponse()
            text = answer.read().decode()
            for cookie in answer.headers.get_all("Set-Cookie") or ():
                name, _, value = cookie.partition(";")[0].partition("=")
                self.cookies[name] = value
            return answer.status, text
        finally:
            connection.close()

    def sign_in(self, account: str) -> None:
        name, password = (line.partition(": ")[2] for line in account.splitlines()[:2])
        self.ask("/sign-in")
        typed = {"username": name, "password": password, "login": name}
        status, text = self.ask("/sign-in", typed)
        assert self.ask("/")[0] == 200, (status, text)


@dataclass(frozen=True)
class Acknowledged:
    code: str
    number: int
    ref: str
    x: int
    y: int


@dataclass
class Shop:
    """The server, who writes on it, and everything that it said was kept."""

    local: Local
    visitor: Visitor
    url: str
    boards: dict[str, list[str]]
    """The refs of each board's pedals, by its code."""
    kept: list[Acknowledged] = field(default_factory=list)
    broken: int = 0
    killed: Event = field(default_factory=Event)

    def write(self, code: str, chance: random.Random) -> None:
        """Moves pedals until the server is gone."""
        while not self.killed.is_set():
            try:
                found = NUMBER.search(self.visitor.ask(f"/boards/{code}/layout")[1])
                seen = int(found[1]) if found else -1
                ref, x = chance.choice(self.boards[code]), 2000 + next(SERIAL)
                typed = {"edit": seen, "x": x, "y": x + 1, "turn": 0}
                status, _text = self.visitor.ask(f"/boards/{code}/pedals/{ref}/place", typed)
            except (OSError, http.client.HTTPException):
                self.broken += 1
                self.killed.wait(0.01)
                continue
            if status == 200:
                self.kept.append(Acknowledged(code, seen + 1, ref, x, x + 1))
            else:
                assert status in (409, 500, 503), status

    def kill(self, *, with_database: bool) -> None:
        """No warning to anybody: supervisor, master, workers, and PostgreSQL with all that it started."""
        run = self.local.started[-1]
        server = int(json.loads((self.local.folder / "server.json").read_text())["server"])
        database: list[int] = []
        if with_database:
            master = int((self.local.folder / "pg-run/data/postmaster.pid").read_text().split()[0])
            database = [master, *children_of(master)]
        os.kill(run.pid, signal.SIGKILL)
        os.killpg(server, signal.SIGKILL)
        for pid in database:
            os.kill(pid, signal.SIGKILL)
        self.killed.set()
        run.wait(20)
        until = time.monotonic() + 20
        while any(map(is_alive, (server, *database))) and time.monotonic() < until:
            time.sleep(0.02)

    def round(self, chance: random.Random, *, with_database: bool) -> None:
        """Four people write, on two boards, until a kill at no particular moment."""
        self.killed.clear()
        before = len(self.kept)
        codes = sorted(self.boards)[:2]
        writers = [(code, random.Random(chance.random())) for code in codes * 2]
        with ThreadPoolExecutor(len(writers)) as threads:
            work = [threads.submit(self.write, *writer) for writer in writers]
            until = time.monotonic() + 30
            try:
                while len(self.kept) < before + 8 and time.monotonic() < until:
                    time.sleep(0.01)
                time.sleep(chance.random() * 0.3)
                self.kill(with_database=with_database)
            finally:
                self.killed.set()
        for done in work:
            done.result()
        assert len(self.kept) > before
        self.visitor.port = self.local.run_until_ready()

    def check(self) -> None:
        """Each acknowledged edit under its number, no number missing, each pedal where it was put last."""
        with psycopg.connect(self.url) as database:
            changes = database.execute(
                "select code, number, patch -> 'boards_placement' from boards_change change"
                " join boards_board board on board.id = change.board_id order by code, number"
            ).fetchall()
            ends = dict(database.execute("select code, edit_number from boards_board").fetchall())
            refs = dict(database.execute("select id::text, ref from boards_item").fetchall())
            places = places_in(database)
        moved = {(code, number): moves_of(rows or {}, refs) for code, number, rows in changes}
        for edit in self.kept:
            assert moved.get((edit.code, edit.number)) == [(edit.ref, edit.x, edit.y)], edit
        for code, end in ends.items():
            assert [n for c, n in moved if c == code and n > 0] == list(range(1, end + 1)), code
        last = {(code, ref): (x, y) for (code, _n), moves in moved.items() for ref, x, y in moves}
        assert {key: places[key] for key in last} == last

    def look(self) -> None:
        """Every page of every board."""
        for code in self.boards:
            for address in (*(f"/boards/{code}{tab}" for tab in TABS), f"/s/{code}/"):
                status, text = self.visitor.ask(address)
                assert status == 200, address
                assert code in text, address


def moves_of(rows: dict[str, list[dict[str, int]]], refs: dict[str, str]) -> list[tuple[str, int, int]]:
    """Each pedal that a change touched, and where it lay afterwards."""
    return [(refs[key], after["x"], after["y"]) for key, (_before, after) in rows.items()]


def places_in(database: psycopg.Connection[tuple[object, ...]]) -> dict[tuple[str, str], tuple[int, int]]:
    rows = database.execute(
        "select code, ref, x, y from boards_placement place join boards_item item on item.id = item_ptr_id"
        " join boards_board board on board.id = board_id"
    ).fetchall()
    return {(code, ref): (x, y) for code, ref, x, y in rows}


def children_of(pid: int) -> list[int]:
    """The processes that this one started and that still run."""
    found = []
    for folder in Path("/proc").iterdir():
        if folder.name.isdigit():
            try:
                parent = (folder / "stat").read_text(errors="replace").rpartition(")")[2].split()[1]
            except OSError:
                continue
            if int(parent) == pid:
                found.append(int(folder.name))
    return found


@pytest.fixture(scope="module")
def shop(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Shop]:
    local = Local(tmp_path_factory.mktemp("killed"))
    port = local.run_until_ready()
    visitor = Visitor(port)
    visitor.sign_in((local.folder / "demo-account").read_text())
    url = postgres.local_url(local.folder, "run")
    boards: dict[str, list[str]] = {}
    with psycopg.connect(url) as database:
        for code, ref in sorted(places_in(database)):
            boards.setdefault(code, []).append(ref)
    yield Shop(local, visitor, url, boards)
    local.stop()
    for process in local.started:
        process.wait(20)


@pytest.mark.long
@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="finds PostgreSQL's processes in /proc")
@pytest.mark.parametrize("rounds", [20])
def test_what_was_acknowledged_is_there_after_each_kill(shop: Shop, rounds: int) -> None:
    chance = random.Random(20)
    for number in range(rounds):
        shop.round(chance, with_database=number % 2 == 1)
        shop.check()
        shop.look()
    print(f"{rounds} kills, {len(shop.kept)} edits acknowledged, {shop.broken} requests cut off")
