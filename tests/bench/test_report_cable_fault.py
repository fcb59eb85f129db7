from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from boardshop.boards.models import CableStay, Change
from boardshop.boards.services.made_cables import link_of
from boardshop.gear.models import CableFault
from tests.board_factories import make_board
from tests.cable_factories import DAY, GOOD, fresh, make_cable, make_tested, put, read
from tests.factories import Cast

pytestmark = pytest.mark.django_db


def url(cable: object) -> str:
    return reverse("report-cable-fault", args=[str(cable)])


def typed(**change: str) -> dict[str, str]:
    today = timezone.localdate().isoformat()
    return {
        "on": today,
        "show": "14",
        "symptom": "crackles",
        "end": "B",
        "cause": "joint",
        "minutes_lost": "6",
    } | change


def test_a_fault_is_kept_with_where_the_cable_was_and_takes_it_off(cast: Cast) -> None:
    board, cable = make_board(cast.shop, 2), make_tested(cast.shop, cast.editor)
    put(cable, board, "W1", cast.editor, anyway=True)
    answer = cast.browser("editor").post(url(cable), typed(), follow=True)
    assert "It came off W1 of Nightjar main" in answer.text
    fault = CableFault.objects.get()
    assert (fault.show, fault.end, fault.cause, fault.minutes_lost) == (14, "B", "joint", 6)
    assert (fault.place, fault.chain_place, fault.who) == ("W1 of Nightjar main", "first", str(cast.editor))
    assert link_of(cable) is None
    assert fresh(cable).verdict == "failed"
    said = Change.objects.filter(board=board).order_by("-number")[0].sentences[0]
    assert said == f"Cable {cable.code} had a fault: crackles."


@pytest.mark.parametrize(("cause", "stays"), [("jack was guilty", True), ("", False), ("bend break", False)])
def test_only_a_guilty_jack_leaves_the_cable_where_it_is(cast: Cast, cause: str, stays: bool) -> None:
    board, cable = make_board(cast.shop, 2), make_tested(cast.shop, cast.editor)
    put(cable, board, "W2", cast.editor)
    cast.browser("editor").post(url(cable), typed(cause=cause))
    assert (link_of(cable) is not None) == stays
    assert (fresh(cable).verdict == "passed") == stays


def test_a_fault_of_before_the_last_test_changes_nothing_now(cast: Cast) -> None:
    cable, today = make_cable(cast.shop), timezone.localdate()
    read(cable, GOOD, cast.editor, on=today)
    cast.browser("editor").post(url(cable), typed(on=(today - timedelta(days=1)).isoformat()))
    assert fresh(cable).verdict == "passed"
    assert CableFault.objects.count() == 1


def test_a_fault_is_of_the_place_where_the_cable_was_that_day(cast: Cast) -> None:
    board, cable, today = make_board(cast.shop, 2), make_cable(cast.shop), timezone.now()
    for days, ref, length in ((30, "W1", 10), (10, "W2", 5)):
        since = today - timedelta(days=days)
        until = since + timedelta(days=length)
        CableStay.objects.create(
            cable=cable, board=board, board_name="Nightjar main", ref=ref, since=since, until=until
        )
    days = (35, 25, 8, 1)
    for back in days:
        on = timezone.localdate() - timedelta(days=back)
        cast.browser("editor").post(url(cable), typed(on=on.isoformat(), symptom=str(back)))
    places = {fault.symptom: fault.place for fault in CableFault.objects.all()}
    assert places == {"35": "", "25": "W1 of Nightjar main", "8": "W2 of Nightjar main", "1": ""}


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"symptom": ""}, "is needed"),
        ({"on": "2999-01-01"}, "still to come"),
        ({"minutes_lost": "-4"}, "no whole number"),
        ({"minutes_lost": "1441"}, "More than a day"),
        ({"end": "C"}, "C"),
        ({"cause": "ghosts"}, "ghosts"),
    ],
)
def test_what_cannot_be_is_told_and_kept_on_the_page(cast: Cast, change: dict[str, str], says: str) -> None:
    answer = cast.browser("editor").post(url(make_cable(cast.shop)), typed(action="swapped") | change)
    assert answer.status_code == 422
    assert says in answer.text
    assert answer.context["form"]["action"].value() == "swapped"
    assert not CableFault.objects.exists()


def test_a_viewer_gets_403_and_a_stranger_404(cast: Cast) -> None:
    cable = make_cable(cast.shop)
    assert cast.browser("viewer").post(url(cable), typed()).status_code == 403
    assert cast.browser("stranger").post(url(cable), typed()).status_code == 404


def test_report_cable_fault_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").delete(url(make_cable(cast.shop))).status_code == 405


def test_a_fault_of_before_the_cable_was_made_is_refused(cast: Cast) -> None:
    cable = make_cable(cast.shop, made_on=DAY)
    day_before = (DAY - timedelta(days=1)).isoformat()
    answer = cast.browser("editor").post(url(cable), typed(on=day_before, action="none yet"))
    assert answer.status_code == 422
    assert f"{cable.code} was made on 2026-03-01, after this day" in answer.context["form"].errors["on"][0]
    assert answer.context["form"]["action"].value() == "none yet"
    assert cast.browser("editor").post(url(cable), typed(on=DAY.isoformat())).status_code == 302
    assert CableFault.objects.get().on == DAY
