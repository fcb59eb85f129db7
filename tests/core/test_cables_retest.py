"""When a cable is to be tested again; intervals are common practice, screw and moulded from memory."""

from datetime import date

import pytest

from boardshop.core.cables.retest import add_months, judge_retest

TESTED = date(2026, 3, 1)


def judged(today, *fixings, **values):
    return judge_retest(tested_on=TESTED, fixings=fixings, today=today, **values)


@pytest.mark.parametrize(
    ("fixings", "last_day"),
    [
        (("soldered", "soldered"), date(2026, 8, 31)),
        (("solderless", "solderless"), date(2026, 5, 31)),
        (("soldered", "solderless"), date(2026, 5, 31)),
        (("screw", "moulded"), date(2026, 5, 31)),
        (("moulded", "soldered"), date(2026, 8, 31)),
    ],
)
def test_the_plug_that_asks_for_more_counts(fixings, last_day):
    due = add_months(TESTED, 6 if last_day.month == 8 else 3)
    assert judged(last_day, *fixings).state == "not due"
    assert judged(due, *fixings).state == "due"
    assert judged(due, *fixings).said == f"retest due since {due}"


@pytest.mark.parametrize(
    ("fixing", "shows", "state"),
    [
        ("soldered", 19, "not due"),
        ("soldered", 20, "due"),
        ("solderless", 9, "not due"),
        ("solderless", 10, "due"),
    ],
)
def test_shows_count_where_they_are_recorded(fixing, shows, state):
    assert judged(date(2026, 3, 20), fixing, fixing, shows_since=shows).state == state


def test_who_does_not_know_the_fixing_does_not_know_the_day():
    one = judged(date(2026, 4, 1), None, "soldered")
    assert (one.state, one.due_on) == ("unknown", None)
    assert one.said == "retest between 2026-06-01 and 2026-09-01, how its plugs are fixed is not recorded"
    assert judged(date(2026, 9, 1), None, None).state == "due"  # whatever its plugs are


def test_a_solderless_plug_settles_it():
    assert judged(date(2026, 4, 1), None, "solderless").due_on == date(2026, 6, 1)


def test_what_was_never_tested_is_to_be_tested():
    retest = judge_retest(tested_on=None, fixings=("soldered", "soldered"), today=TESTED)
    assert (retest.state, retest.is_due, retest.due_on) == ("never tested", True, None)


def test_one_that_failed_is_to_be_mended_whenever_it_was_tested():
    retest = judge_retest(tested_on=TESTED, fixings=("soldered",) * 2, today=TESTED, has_failed=True)
    assert (retest.is_due, retest.said) == (True, "to be mended and tested")


def test_a_row_of_a_list_has_it_short():
    today = date(2026, 4, 1)
    words = [judged(today, *pair).brief for pair in (("soldered",) * 2, (None, None), ("solderless", None))]
    assert words == ["retest 2026-09-01", "retest 2026-06-01 or later", "retest 2026-06-01"]


@pytest.mark.parametrize(("today", "worn"), [(date(2027, 2, 28), False), (date(2027, 3, 1), True)])
def test_a_lead_is_replaced_after_twelve_months_in_use(today, worn):
    retest = judge_retest(tested_on=today, fixings=("soldered",) * 2, today=today, lead_since=TESTED)
    assert (retest.replace_on, retest.is_worn) == (date(2027, 3, 1), worn)
    assert ("replace it" in retest.said) == worn


@pytest.mark.parametrize(
    ("day", "months", "then"),
    [
        (date(2026, 8, 31), 6, date(2027, 2, 28)),
        (date(2027, 8, 31), 6, date(2028, 2, 29)),
        (date(2026, 12, 15), 1, date(2027, 1, 15)),
    ],
)
def test_a_month_without_that_day_ends_it(day, months, then):
    assert add_months(day, months) == then
