"""Several people edit one board at once, on a real Postgres and in threads: nothing is lost or doubled."""

from __future__ import annotations

import itertools
import random
import re
from collections import Counter
from collections.abc import Callable
from concurrent.futures import ThreadPoolExecutor
from copy import deepcopy
from dataclasses import dataclass, field
from html import unescape
from threading import Barrier, Lock
from time import sleep
from typing import Any

import pytest
from django.db import connection
from django.test import Client as Browser

from boardshop.boards.history.state import digest_of, read_state
from boardshop.boards.models import Board, Change
from tests.board_factories import make_board, plan_of
from tests.boards.contract import HTMX
from tests.boards.replay import REDO, UNDO, Refused, Replay, Values
from tests.factories import make_person, make_shop

PEDALS = 6
NUMBER = re.compile(r'id="edit-number" value="(\d+)"')
LINK = re.compile(r"/links/(\w+)/remove")
SERIAL = itertools.count(1)


@dataclass(frozen=True)
class Post:
    """One form: where it goes, what is typed, and what that means in the replay."""

    address: str
    typed: dict[str, Any]
    means: Values


@dataclass(frozen=True)
class Answer:
    who: str
    seen: int
    post: Post
    status: int
    number: int
    text: str

    @property
    def made(self) -> int:
        """The number of the edit, if it is one."""
        return self.seen + 1

    @property
    def is_edit(self) -> bool:
        """Acknowledged, and not as something that was stored already."""
        return self.status == 200 and self.number > self.seen


@dataclass
class Writer:
    """A person in a browser, who knows of the board what the last answer showed."""

    board: Board
    who: str
    browser: Browser
    twin: Browser
    chance: random.Random
    answers: list[Answer] = field(default_factory=list)
    seen: int = 0
    page: str = ""

    def look(self, tab: str) -> None:
        self.page = self.browser.get(f"/boards/{self.board.code}/{tab}").text
        self.seen = int(NUMBER.findall(self.page)[0])

    def wait_and_look(self) -> None:
        """Mostly; who sends again at once what a refusal offers is late again as often as not."""
        sleep(self.chance.random() * 0.3)
        if self.chance.random() < 0.8:
            self.seen = Board.objects.values_list("edit_number", flat=True).get(pk=self.board.pk)

    def any_post(self) -> Post:
        kinds = (place, place, play, feed, unfeed, connect, remove, undo, undo, redo)
        return self.chance.choice(kinds)(self)

    def send(self, post: Post, browser: Browser | None = None) -> Answer:
        address = f"/boards/{self.board.code}/{post.address}"
        answer = (browser or self.browser).post(address, {"edit": self.seen, **post.typed}, headers=HTMX)
        found = NUMBER.search(answer.text)
        number = int(found[1]) if found else -1
        said = unescape(answer.text) if answer.status_code == 422 else ""
        return Answer(self.who, self.seen, post, answer.status_code, number, said)

    def click_twice(self, post: Post) -> list[Answer]:
        """Both clicks are under way at the same time."""
        start = Barrier(2)

        def click(browser: Browser) -> Answer:
            start.wait(timeout=10)
            return in_own_connection(lambda: self.send(post, browser))

        with ThreadPoolExecutor(2) as hands:
            return list(hands.map(click, (self.browser, self.twin)))

    def note(self, answers: list[Answer]) -> None:
        self.answers += answers
        self.seen = max(answer.number for answer in answers)


def in_own_connection[T](work: Callable[[], T]) -> T:
    try:
        return work()
    finally:
        connection.close()


def pedal(writer: Writer) -> str:
    return f"P{writer.chance.randint(1, PEDALS)}"


def place(writer: Writer) -> Post:
    """Never the same place twice, so that it always is an edit."""
    ref, n = pedal(writer), 1000 + next(SERIAL)
    typed = {"x": n, "y": n + 5000, "turn": 0}
    return Post(f"pedals/{ref}/place", typed, {("place", ref): (n, n + 5000)})


def play(writer: Writer) -> Post:
    ref, on, use = pedal(writer), writer.chance.choice([True, False]), writer.chance.randint(0, 5)
    typed = {"role": "", "on": "true" if on else "false", "use": use}
    return Post(f"pedals/{ref}/play", typed, {("on", ref): on, ("use", ref): use})


def feed(writer: Writer) -> Post:
    """A jack that is fed already is fed otherwise."""
    ref, outlet = pedal(writer), f"S1.{writer.chance.randint(1, 8)}"
    typed = {"outlet": f"{outlet}@9000"}
    return Post(f"feeds/{ref}.DC/feed", typed, {("feed", ref): (outlet, next(SERIAL))})


def unfeed(writer: Writer) -> Post:
    ref = pedal(writer)
    return Post(f"feeds/{ref}.DC/unfeed", {}, {("feed", ref): None})


def connect(writer: Writer) -> Post:
    """From a pedal to the next one, mostly where a link is already."""
    n, ref = writer.chance.randint(1, PEDALS - 1), f"L{next(SERIAL)}"
    ends = (f"P{n}.OUT", f"P{n + 1}.IN")
    return Post("links/connect", {"source": ends[0], "target": ends[1], "ref": ref}, {("link", ref): ends})


def remove(writer: Writer) -> Post:
    """One that stands on the page."""
    writer.look("cables")
    refs = LINK.findall(writer.page)
    if not refs:
        return connect(writer)
    ref = writer.chance.choice(refs)
    return Post(f"links/{ref}/remove", {}, {("link", ref): None})


def undo(writer: Writer) -> Post:
    return Post("undo", {"page": "layout"}, {UNDO: True})


def redo(writer: Writer) -> Post:
    return Post("redo", {"page": "layout"}, {REDO: True})


@dataclass
class Crowd:
    """So many writers, who go on until so many edits are kept."""

    board: Board
    writers: list[Writer]
    wanted: int
    kept: int = 0
    lock: Lock = field(default_factory=Lock)

    def work(self) -> list[Answer]:
        with ThreadPoolExecutor(len(self.writers)) as threads:
            list(threads.map(lambda writer: in_own_connection(lambda: self.write(writer)), self.writers))
        return [answer for writer in self.writers for answer in writer.answers]

    def write(self, writer: Writer) -> None:
        writer.look("layout")
        while self.take_turn():
            post = writer.any_post()
            is_kept = False
            while not is_kept:
                double = writer.chance.random() < 0.15
                answers = writer.click_twice(post) if double else [writer.send(post)]
                writer.note(answers)
                is_kept = any(answer.is_edit for answer in answers)
                if not is_kept:
                    writer.wait_and_look()
                if any(answer.status != 409 for answer in answers) and not is_kept:
                    post = writer.any_post()

    def take_turn(self) -> bool:
        with self.lock:
            self.kept += 1
            return self.kept <= self.wanted


def values_of(board: Board) -> Values:
    """As they are stored now, read by way of the board file's plan."""
    plan = plan_of(board)
    values: Values = {}
    for one in plan.pedals:
        if one.place:
            values["place", one.ref] = (one.place.x, one.place.y)
        values["on", one.ref], values["use", one.ref] = one.on, one.use
    values |= {("link", link.ref): (str(link.source), str(link.target)) for link in plan.links}
    values |= {
        ("feed", jack.partition(".")[0]): each.outlets[0] for each in plan.feeds for jack in each.jacks
    }
    return values


def make_crowd(writers: int, edits: int, seed: int) -> Crowd:
    shop = make_shop()
    board = make_board(shop, PEDALS)
    people = [make_person(shop, "editor") for _ in range(writers)]
    crowd: list[Writer] = []
    for n, person in enumerate(people):
        browsers = Browser(), Browser()
        for browser in browsers:
            browser.force_login(person)
        crowd.append(Writer(board, person.username, *browsers, random.Random(seed + n)))
    return Crowd(board, crowd, edits)


def check(crowd: Crowd, begun: Replay, answers: list[Answer]) -> Counter[str]:
    """Everything that may be asked of answers, history and rows; gives how often each status came."""
    once = each_form_once(answers)
    edits = {answer.made: answer for answer in once if answer.is_edit}
    assert len(edits) == sum(answer.is_edit for answer in once), "two edits were acknowledged as the same one"
    stored = list(Change.objects.filter(board=crowd.board).order_by("number"))
    assert [change.number for change in stored] == sorted(edits) == list(range(1, len(stored) + 1))
    assert Board.objects.get(pk=crowd.board.pk).edit_number == len(stored)
    assert [change.who for change in stored] == [edits[change.number].who for change in stored]
    states = replay(begun, edits)
    for answer in once:
        check_refusal(answer, states)
    assert values_of(crowd.board) == states[-1].standing()
    assert digest_of(read_state(crowd.board)) == stored[-1].digest
    return Counter(str(answer.status) for answer in answers)


def each_form_once(answers: list[Answer]) -> list[Answer]:
    """Of a double click both answers say the same edit: one of them counts."""
    forms: dict[tuple[int, int], list[Answer]] = {}
    for answer in answers:
        forms.setdefault((id(answer.post), answer.seen), []).append(answer)
    for pair in forms.values():
        kept = {answer.status for answer in pair if answer.is_edit}
        assert not kept or {answer.is_edit for answer in pair} == {True}, [a.status for a in pair]
    return [one for pair in forms.values() for one in (pair[:1] if pair[0].is_edit else pair)]


def replay(begun: Replay, edits: dict[int, Answer]) -> list[Replay]:
    """The state after each number; an edit that should have been refused, or none at all, shows here."""
    states = [begun]
    for number in sorted(edits):
        edit, state = edits[number], deepcopy(states[-1])
        assert state.apply(edit.who, edit.post.means), edit
        states.append(state)
    return states


def check_refusal(answer: Answer, states: list[Replay]) -> None:
    """What was not kept came late, or is not to be had on the state it was made on, or changes nothing."""
    if answer.status == 409:
        assert answer.number > answer.seen
    elif answer.status == 422:
        with pytest.raises(Refused) as refused:
            deepcopy(states[answer.seen]).apply(answer.who, answer.post.means)
        assert str(refused.value) in answer.text
    elif not answer.is_edit:
        assert (answer.status, answer.number) == (200, answer.seen)
        assert not deepcopy(states[answer.seen]).apply(answer.who, answer.post.means)


@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize(
    ("writers", "edits", "seed"), [(4, 24, 1), pytest.param(8, 400, 100, marks=pytest.mark.long)]
)
def test_nothing_is_lost_and_nothing_doubled(writers: int, edits: int, seed: int) -> None:
    crowd = make_crowd(writers, edits, seed)
    begun = Replay({key: (v, 0) if key[0] == "feed" else v for key, v in values_of(crowd.board).items()})
    answers = crowd.work()
    counts = check(crowd, begun, answers)
    assert Change.objects.filter(board=crowd.board).count() == edits
    assert counts["409"] > 0
    assert set(counts) <= {"200", "409", "422"}
    print(f"{writers} writers, {edits} edits, {len(answers)} posts: {dict(counts)}")
