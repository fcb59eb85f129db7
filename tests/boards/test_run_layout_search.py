"""The command and what it runs: turns, signs of life, stopping, failing; once as a process of its own."""

import time
from collections.abc import Callable
from datetime import timedelta
from typing import Any
from urllib.parse import quote

import psycopg
import pytest
from django.core.management import CommandError, call_command
from django.db import OperationalError, connection
from django.utils import timezone

from boardshop.boards.models import Board, LayoutSearch
from boardshop.boards.searching import running
from boardshop.boards.searching.processes import start_process
from boardshop.boards.searching.running import Sign, run_search
from boardshop.boards.searching.stored import (
    Answer,
    Answers,
    Cure,
    read_answers,
    read_placing,
    write_answers,
    write_placing,
)
from boardshop.boards.searching.turns import LOCK_CLASS, turn_of
from boardshop.boards.searching.work import Task, find_answers
from boardshop.core.placing import Placing, Progress, Wishes
from boardshop.core.placing.proposal import propose_layouts
from boardshop.core.plan import Place
from tests.board_factories import make_board, plan_of
from tests.boards.searches import PLACING, QUICK, ask
from tests.core import builders as b
from tests.factories import Cast, make_cast


@pytest.fixture
def board(cast: Cast) -> Board:
    return make_board(cast.shop)


def row(search: LayoutSearch) -> LayoutSearch:
    return LayoutSearch.objects.get(pk=search.pk)


@pytest.mark.django_db
class TestCommand:
    def test_it_answers_as_core_does(self, board: Board) -> None:
        search = ask(board)
        call_command("run_layout_search", search.pk)
        done = row(search)
        placings = tuple(answer.placing for answer in read_answers(done.answers).placings)
        assert (done.state, done.percent, placings) == ("done", 100, propose_layouts(plan_of(board), QUICK))
        assert done.started_at <= done.finished_at

    def test_one_that_is_gone_is_said(self, db: None) -> None:
        with pytest.raises(CommandError, match="There is no search 4711"):
            call_command("run_layout_search", 4711)

    def test_one_that_has_ended_is_not_run_again(self, board: Board) -> None:
        search = ask(board)
        run_search(search.pk)
        before = row(search).finished_at
        run_search(search.pk)
        assert row(search).finished_at == before

    def test_one_that_fails_says_so(self, board: Board, monkeypatch: Any, caplog: Any) -> None:
        def fail(*_args: object) -> Answers:
            raise ZeroDivisionError

        monkeypatch.setattr(running, "find_answers", fail)
        search = ask(board)
        run_search(search.pk)
        assert row(search).state == "failed"
        assert "ZeroDivisionError" in caplog.text

    def test_a_database_that_goes_away_ends_it_in_a_sentence(self, board: Board, monkeypatch: Any) -> None:
        def fail(*_args: object) -> Answers:
            raise OperationalError

        monkeypatch.setattr(running, "find_answers", fail)
        with pytest.raises(CommandError, match="The database went away"):
            call_command("run_layout_search", ask(board).pk)


@pytest.mark.django_db
class TestSigns:
    """With a clock of its own: signs are told at most three times a second."""

    @pytest.fixture
    def search(self, board: Board) -> LayoutSearch:
        search = ask(board)
        LayoutSearch.objects.update(state="running")
        return search

    def test_percent_and_best_are_written(self, search: LayoutSearch) -> None:
        assert Sign(search.pk, lambda: 1.0)(Progress(30, PLACING))
        assert (row(search).percent, read_placing(row(search).best)) == (30, PLACING)

    @pytest.mark.parametrize(("second", "told"), [(1.33, 30), (1.35, 60)])
    def test_the_next_sign_comes_a_third_of_a_second_later(
        self, search: LayoutSearch, second: float, told: int
    ) -> None:
        clock = iter([1.0, second])
        sign = Sign(search.pk, lambda: next(clock))
        sign(Progress(30, None))
        sign(Progress(60, None))
        assert row(search).percent == told

    def test_a_bar_does_not_run_back(self, search: LayoutSearch) -> None:
        clock = iter([1.0, 2.0])
        sign = Sign(search.pk, lambda: next(clock))
        sign(Progress(90, None))
        sign(Progress(10, None))
        assert row(search).percent == 90

    def test_who_is_asked_to_stop_stops(self, search: LayoutSearch) -> None:
        LayoutSearch.objects.update(is_asked_to_stop=True)
        sign = Sign(search.pk, lambda: 1.0)
        assert not sign(Progress(1, None))
        assert sign.was_stopped

    def test_the_board_may_vanish_meanwhile(self, search: LayoutSearch) -> None:
        search.board.delete()
        assert not Sign(search.pk, lambda: 1.0)(Progress(1, None))

    def test_one_that_was_given_up_as_dead_does_not_come_back(self, search: LayoutSearch) -> None:
        LayoutSearch.objects.update(state="failed", finished_at=timezone.now())
        assert not Sign(search.pk, lambda: 1.0)(Progress(1, PLACING))
        assert row(search).best is None

    def test_the_placings_are_there_before_the_cures(self, search: LayoutSearch) -> None:
        assert Sign(search.pk, lambda: 1.0).found(Answers((Answer(PLACING),)))
        assert read_answers(row(search).answers).placings[0].placing == PLACING


@pytest.mark.django_db
def test_a_search_that_is_stopped_keeps_its_best(board: Board) -> None:
    """Stopped at the first sign: what core answers then is kept, and no cure is sought."""
    search = ask(board, wishes=Wishes(seconds=5))
    original = running._begin

    def begin(pk: int) -> bool:
        begun = original(pk)
        LayoutSearch.objects.update(is_asked_to_stop=True)
        return begun

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(running, "_begin", begin)
        run_search(search.pk)
    assert row(search).state == "stopped"
    assert read_answers(row(search).answers).cures == ()


def test_what_is_written_is_read_again() -> None:
    cure = Cure("turn", "P2", "P2 turned.", PLACING)
    answers = Answers((Answer(PLACING, 3), Answer(PLACING)), (cure,))
    assert read_answers(write_answers(answers)) == answers
    assert read_placing(write_placing(PLACING)) == PLACING


class TestWork:
    """What is asked of core, with placings made up where only that counts."""

    def answers(self, found: Callable[[Answers], bool], monkeypatch: Any, *left: str) -> Answers:
        placing = Placing((("P1", Place(0, 0)),), left, "", 1, 0, False, 0)
        cure = Cure("leave out", "P2", "Without P2.", placing)
        work = "boardshop.boards.searching.work"
        monkeypatch.setattr(f"{work}.propose_layouts", lambda *_args: (placing,))
        monkeypatch.setattr(f"{work}.find_cures", lambda *_args: (cure,))
        task = Task("all", b.board(b.pedal("P1"), b.pedal("P2")), QUICK)
        return find_answers(task, lambda _progress: True, found)

    def test_cures_are_sought_for_those_left_out(self, monkeypatch: Any) -> None:
        assert [one.subject for one in self.answers(lambda _: True, monkeypatch, "P2").cures] == ["P2"]

    def test_where_all_fit_there_is_nothing_to_cure(self, monkeypatch: Any) -> None:
        assert self.answers(lambda _: True, monkeypatch).cures == ()

    def test_one_that_was_stopped_seeks_no_cures(self, monkeypatch: Any) -> None:
        assert self.answers(lambda _: False, monkeypatch, "P2").cures == ()


@pytest.mark.django_db(transaction=True)
class TestTurns:
    """With a second connection that holds the only place, as another process does."""

    @pytest.fixture
    def search(self, db: None) -> LayoutSearch:
        return ask(make_board(make_cast().shop))

    def test_it_waits_while_another_one_runs(self, search: LayoutSearch) -> None:
        with psycopg.connect(**connection_values(), autocommit=True) as other:
            other.execute("SELECT pg_advisory_lock(%s, 0)", [LOCK_CLASS])
            naps: list[float] = []

            def sleep(seconds: float) -> None:
                naps.append(seconds)
                if len(naps) == 3:
                    other.execute("SELECT pg_advisory_unlock(%s, 0)", [LOCK_CLASS])

            with turn_of(search.pk, sleep) as has_turn:
                assert has_turn
        assert len(naps) == 3

    def test_its_place_is_free_again_afterwards(self, search: LayoutSearch) -> None:
        with turn_of(search.pk):
            assert not others_take()
        assert others_take()

    def test_a_process_that_died_holds_no_place(self, search: LayoutSearch) -> None:
        other = psycopg.connect(**connection_values(), autocommit=True)
        other.execute("SELECT pg_advisory_lock(%s, 0)", [LOCK_CLASS])
        other.close()
        with turn_of(search.pk, lambda _seconds: time.sleep(0.05)) as has_turn:
            assert has_turn

    def test_two_run_at_once_where_the_setting_says_so(self, search: LayoutSearch, settings: Any) -> None:
        settings.SEARCHES_AT_ONCE = 2
        with psycopg.connect(**connection_values(), autocommit=True) as other:
            other.execute("SELECT pg_advisory_lock(%s, 0)", [LOCK_CLASS])
            with turn_of(search.pk, never) as has_turn:
                assert has_turn

    def test_who_came_first_goes_first(self, search: LayoutSearch) -> None:
        second = ask(make_board(search.board.shop, name="Other"))

        def first_goes(_seconds: float) -> None:
            LayoutSearch.objects.filter(pk=search.pk).update(state="failed", finished_at=timezone.now())

        with turn_of(second.pk, first_goes) as has_turn:
            assert has_turn
        assert row(search).state == "failed"

    def test_nobody_waits_for_the_dead(self, search: LayoutSearch) -> None:
        second = ask(make_board(search.board.shop, name="Other"))
        LayoutSearch.objects.filter(pk=search.pk).update(seen_at=timezone.now() - timedelta(seconds=61))
        with turn_of(second.pk, never) as has_turn:
            assert has_turn


@pytest.mark.django_db(transaction=True)
def test_one_that_tells_nothing_for_long_still_lives(monkeypatch: Any) -> None:
    """As while core compiles: its last sign of life grows younger by itself."""
    search = ask(make_board(make_cast().shop))

    def compile_long(*_args: object) -> Answers:
        begun, deadline = row(search).seen_at, time.monotonic() + 30
        while row(search).seen_at == begun and time.monotonic() < deadline:
            time.sleep(0.02)
        assert row(search).seen_at > begun
        return Answers((Answer(PLACING),))

    monkeypatch.setattr(running, "BEAT_SECONDS", 0.05)
    monkeypatch.setattr(running, "find_answers", compile_long)
    run_search(search.pk)
    assert row(search).state == "done"


def never(_seconds: float) -> None:
    pytest.fail("It waited.")


def connection_values() -> dict[str, Any]:
    values = connection.get_connection_params()
    return {name: values[name] for name in ("dbname", "user", "password", "host", "port") if values.get(name)}


def url_of_test_database() -> str:
    values = {name: quote(str(value), safe="") for name, value in connection_values().items()}
    login = ":".join(values[name] for name in ("user", "password") if name in values)
    where = "&".join(f"{name}={values[name]}" for name in ("host", "port") if name in values)
    return f"postgresql://{login}@/{values['dbname']}?{where}"


def others_take() -> bool:
    with psycopg.connect(**connection_values(), autocommit=True) as other:
        answer = other.execute("SELECT pg_try_advisory_lock(%s, 0)", [LOCK_CLASS]).fetchone()
        return bool(answer and answer[0])


@pytest.mark.django_db(transaction=True)
def test_a_process_of_its_own_finds_the_answers(monkeypatch: Any) -> None:
    """As the server starts it: it outlives who started it, and nothing but the row tells of it."""
    monkeypatch.setenv("BOARDSHOP_DATABASE_URL", url_of_test_database())
    search = ask(make_board(make_cast().shop))
    start_process(search.pk)
    deadline = time.monotonic() + 120
    while row(search).is_under_way and time.monotonic() < deadline:
        time.sleep(0.2)
    assert row(search).state == "done"
    assert read_answers(row(search).answers).placings
