from datetime import timedelta
from decimal import Decimal

import pytest
from django.urls import reverse
from django.utils import timezone

from boardshop.bench.readings import parse_drop, parse_mohm, parse_ohm, parse_pf
from boardshop.bench.services.cable_tests import report_fault
from boardshop.boards.models import Board, Change
from boardshop.boards.services.made_cables import link_of
from boardshop.gear.amounts import AmountError
from boardshop.gear.models import CableTest
from tests.board_factories import make_board
from tests.cable_factories import BAD, DAY, GOOD, fresh, make_cable, make_tested, put, read
from tests.factories import Cast

pytestmark = pytest.mark.django_db
TYPED = {
    "on": "2026-03-01",
    "tug": "yes",
    "tip_ohm": "0,05",
    "sleeve_ohm": "0.03 ohm",
    "insulation_mohm": "OL",
    "crossed": "yes",
    "wiggle_ohm": "0",
    "listened": "yes",
}


def url(cable: object) -> str:
    return reverse("test-cable", args=[str(cable)])


def test_limits_stand_beside_the_fields_before_anything_is_typed(cast: Cast) -> None:
    make_board(cast.shop, 2)
    text = cast.browser("editor").get(url(make_cable(cast.shop))).text
    for words in ("Passes: below 0.37 ohm.", "Passes: above 20 Mohm, or over range.", "Passes: open."):
        assert words in text
    # 70 pF of 100 pF/m cable and 5 to 15 pF of plugs, 15 % either way.
    assert "Passes: 63.75 to 97.75 pF." in text


def test_a_cable_without_a_capacitance_on_record_says_so(cast: Cast) -> None:
    assert "It cannot be judged: the pF/m" in cast.browser("editor").get(url(make_cable(cast.shop))).text


def test_a_test_is_judged_and_kept(cast: Cast) -> None:
    cable = make_cable(cast.shop)
    answer = cast.browser("editor").post(url(cable), TYPED, follow=True)
    assert f"{cable.code}: passed; capacitance not read." in answer.text
    test = CableTest.objects.get()
    assert (test.tip_ohm, test.insulation_mohm, test.over_range) == (
        Decimal("0.05"),
        None,
        ["insulation_mohm"],
    )
    assert (test.verdict, test.who, test.on) == ("passed", str(cast.editor), DAY)
    assert (fresh(cable).verdict, fresh(cable).tested_on) == ("passed", DAY)


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"tip_ohm": "-0.1"}, "below zero"),
        ({"tip_ohm": "much"}, "is no reading in ohm"),
        ({"tip_ohm": "1000001"}, "beyond what such a reading can be"),
        ({"insulation_mohm": "20 V"}, "is no reading in Mohm"),
        ({"pf": "-1"}, "below zero"),
        ({"pf": "1000 nF"}, "beyond what such a reading can be"),
        ({"on": ""}, "is needed"),
        ({"on": "2999-01-01"}, "still to come"),
        ({"show": "-1"}, "is no whole number"),
        ({"crossed": "perhaps"}, "perhaps"),
    ],
)
def test_a_reading_that_cannot_be_is_told_at_its_field(cast: Cast, change: dict[str, str], says: str) -> None:
    cable = make_cable(cast.shop)
    answer = cast.browser("editor").post(url(cable), TYPED | {"note": "mine"} | change)
    assert answer.status_code == 422
    assert says in answer.context["form"].errors[next(iter(change))][0]
    assert answer.context["form"]["note"].value() == "mine"
    assert not CableTest.objects.exists()


def test_nothing_read_is_no_test(cast: Cast) -> None:
    answer = cast.browser("editor").post(url(make_cable(cast.shop)), {"on": "2026-03-01"})
    assert (answer.status_code, "Nothing was read" in answer.text) == (422, True)


def test_readings_are_judged_without_being_kept(cast: Cast) -> None:
    cable = make_cable(cast.shop)
    typed = TYPED | {"judge": "1", "sleeve_ohm": "0.5", "wiggle_ohm": "-3"}
    part = cast.browser("editor").post(url(cable), typed, headers={"HX-Request": "true"}).text
    assert "So far: failed: sleeve to sleeve" in part
    assert "does not count yet" in part
    assert "<html" not in part
    page = cast.browser("editor").post(url(cable), typed)
    assert (page.status_code, "So far: failed" in page.text, "<html" in page.text) == (200, True, True)
    assert page.context["form"]["sleeve_ohm"].value() == "0.5"
    assert not CableTest.objects.exists()


def test_one_that_fails_comes_off_its_board_in_the_same_act(cast: Cast) -> None:
    board, cable = make_board(cast.shop, 2), make_tested(cast.shop, cast.editor)
    put(cable, board, "W2", cast.editor)
    browser = cast.browser("editor")
    assert "It is W2 of board Nightjar main now." in browser.get(url(cable)).text
    answer = browser.post(url(cable), TYPED | {"tip_ohm": "OL"}, follow=True)
    assert "It came off W2 of Nightjar main" in answer.text
    assert link_of(cable) is None
    assert (fresh(cable).verdict, fresh(cable).place) == ("failed", "bench")
    change = Change.objects.filter(board=board).order_by("-number")[0]
    assert change.sentences[0] == f"Cable {cable.code} failed: tip to tip."
    assert (change.number, change.person) == (Board.objects.get(pk=board.pk).edit_number, cast.editor)


def test_one_that_passes_stays_on_its_board(cast: Cast) -> None:
    board, cable = make_board(cast.shop, 2), make_tested(cast.shop, cast.editor)
    put(cable, board, "W2", cast.editor)
    cast.browser("editor").post(url(cable), TYPED)
    assert link_of(cable) is not None


def test_a_part_of_a_test_leaves_the_verdict_from_before(cast: Cast) -> None:
    new, good, bad = make_cable(cast.shop), make_tested(cast.shop, cast.editor), make_cable(cast.shop)
    read(bad, BAD, cast.editor)
    for cable in (new, good, bad):
        read(cable, {"tug": True}, cast.editor)
    assert [fresh(cable).verdict for cable in (new, good, bad)] == ["incomplete", "passed", "failed"]


def test_what_is_newest_counts_whenever_it_is_written_down(cast: Cast) -> None:
    cable = make_cable(cast.shop)
    read(cable, BAD, cast.editor, on=DAY)
    read(cable, GOOD, cast.editor, on=DAY - timedelta(days=1))
    assert fresh(cable).verdict == "failed"
    read(cable, GOOD, cast.editor, on=DAY)
    assert fresh(cable).verdict == "passed"
    report_fault(cable, on=DAY + timedelta(days=2), by=cast.editor, symptom="crackles")
    read(cable, GOOD, cast.editor, on=DAY + timedelta(days=1))
    assert fresh(cable).verdict == "failed"


def test_the_same_form_sent_twice_is_one_test(cast: Cast) -> None:
    cable, browser = make_cable(cast.shop), cast.browser("editor")
    once = browser.get(url(cable)).context["form"]["once"].value()
    for _ in range(2):
        browser.post(url(cable), TYPED | {"once": once})
    assert CableTest.objects.count() == 1


def test_a_dc_lead_has_tests_of_its_own(cast: Cast) -> None:
    lead, browser = make_cable(cast.shop, kind="dc"), cast.browser("editor")
    fields = {bound.name for bound in browser.get(url(lead)).context["form"].reading_fields}
    assert fields == {"tug", "wiggle_ohm", "polarity", "drop_mv"}
    typed = {"on": "2026-03-01", "tug": "yes", "wiggle_ohm": "0", "polarity": "yes", "drop_mv": "0.201"}
    browser.post(url(lead), typed)
    assert (fresh(lead).verdict, CableTest.objects.get().drop_mv) == ("failed", 201)
    browser.post(url(lead), typed | {"drop_mv": "200 mV"})
    assert fresh(lead).verdict == "passed"


def test_one_on_the_scrap_is_not_tested(cast: Cast) -> None:
    cable = make_cable(cast.shop)
    type(cable).objects.filter(pk=cable.pk).update(scrapped_on=timezone.localdate())
    answer = cast.browser("editor").post(url(cable), TYPED)
    assert (answer.status_code, "was scrapped" in answer.text) == (422, True)


@pytest.mark.parametrize(
    ("read_it", "text", "value"),
    [
        (parse_ohm, "0,12 Ω", Decimal("0.12")),
        (parse_ohm, "o.l", "over"),
        (parse_mohm, "1.2 Gohm", Decimal(1200)),
        (parse_mohm, "300 kohm", Decimal("0.3")),
        (parse_mohm, "over  range", "over"),
        (parse_pf, "0.4 nF", Decimal(400)),
        (parse_drop, "0.15", Decimal(150)),
        (parse_drop, "150 mV", Decimal(150)),
    ],
)
def test_readings_as_people_write_them(read_it: object, text: str, value: object) -> None:
    assert read_it(text) == value  # type: ignore[operator]


@pytest.mark.parametrize("text", ["−1", "1 2", "1,2,3", "NaN", "1e5", "٣", "9" * 41, "OLD"])
def test_what_is_no_reading_is_refused(text: str) -> None:
    with pytest.raises(AmountError):
        parse_ohm(text)


def test_a_viewer_gets_403_and_a_stranger_404(cast: Cast) -> None:
    cable = make_cable(cast.shop)
    assert cast.browser("viewer").post(url(cable), TYPED).status_code == 403
    assert cast.browser("stranger").post(url(cable), TYPED).status_code == 404


def test_test_cable_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").delete(url(make_cable(cast.shop))).status_code == 405


def test_a_test_of_before_the_cable_was_made_is_refused(cast: Cast) -> None:
    cable = make_cable(cast.shop, made_on=DAY)
    answer = cast.browser("editor").post(url(cable), TYPED | {"on": "2026-02-28"})
    assert answer.status_code == 422
    assert f"{cable.code} was made on 2026-03-01, after this day" in answer.context["form"].errors["on"][0]
    assert cast.browser("editor").post(url(cable), TYPED | {"on": "2026-03-01"}).status_code == 302
