"""A made cable judged: each limit below, at and above it.  All limits are common practice."""

from decimal import Decimal

import pytest

from boardshop.core.cables.limits import BENCH_TESTS, MadeAs, list_tests
from boardshop.core.cables.register_words import CABLE_KINDS
from boardshop.core.cables.testing import OVER, judge_test

PATCH = MadeAs("signal", 320, 100)
LEAD = MadeAs("dc", 600)
GOOD = {
    "tug": True,
    "tip_ohm": Decimal("0.05"),
    "sleeve_ohm": Decimal("0.03"),
    "insulation_mohm": OVER,
    "crossed": True,
    "pin_map": True,
    "wiggle_ohm": Decimal(0),
    "listened": True,
    "pf": Decimal(42),
    "polarity": True,
    "drop_mv": Decimal(60),
}


def line_of(made, key, reading):
    (line,) = [line for line in judge_test(made, {key: reading}).lines if line.key == key]
    return line


@pytest.mark.parametrize(
    ("made", "key", "passing", "failing"),
    [
        # 0.3 ohm + 0.1 per m of 320 mm = 0.332, and below it.
        (PATCH, "tip_ohm", "0.331", "0.332"),
        # 0.15 ohm + 0.05 per m of 320 mm = 0.166, and below it.
        (PATCH, "sleeve_ohm", "0.165", "0.166"),
        (PATCH, "insulation_mohm", "20.001", "20"),
        (PATCH, "wiggle_ohm", "0.1", "0.101"),
        # 32 pF of cable with 5 to 15 pF of plugs, 15 % either way: 31.45 to 54.05 pF.
        (PATCH, "pf", "31.45", "31.44"),
        (PATCH, "pf", "54.05", "54.06"),
        (LEAD, "drop_mv", "200", "201"),
    ],
)
def test_the_last_reading_that_passes_and_the_first_that_fails(made, key, passing, failing):
    assert line_of(made, key, Decimal(passing)).verdict == "passed"
    assert line_of(made, key, Decimal(failing)).verdict == "failed"


@pytest.mark.parametrize(
    ("key", "words"),
    [
        ("tip_ohm", "below 0.332 ohm"),
        ("sleeve_ohm", "below 0.166 ohm"),
        ("insulation_mohm", "above 20 Mohm, or over range"),
        ("pf", "31.45 to 54.05 pF"),
        ("crossed", "open"),
    ],
)
def test_a_limit_is_said_before_anything_is_read(key, words):
    line = line_of(PATCH, key, None)
    assert (line.limit, line.verdict) == (words, "not read")


def test_limits_grow_with_the_length():
    assert line_of(MadeAs("signal", 6000, 110), "tip_ohm", None).limit == "below 0.9 ohm"


def test_over_range_is_good_insulation_and_an_open_wire():
    verdicts = [line_of(PATCH, key, OVER).verdict for key in ("insulation_mohm", "tip_ohm", "wiggle_ohm")]
    assert verdicts == ["passed", "failed", "failed"]


@pytest.mark.parametrize("kind", CABLE_KINDS)
def test_a_cable_passes_with_every_needed_reading_within_its_limit(kind):
    made = MadeAs(kind, 320, 100)
    assert judge_test(made, GOOD).verdict == "passed"
    needed = [test.key for test in list_tests(kind) if test.is_needed]
    for key in needed:
        without = {name: value for name, value in GOOD.items() if name != key}
        judged = judge_test(made, without)
        assert judged.verdict == "incomplete"
        assert len(judged.missing) == 1


@pytest.mark.parametrize("key", [test.key for test in list_tests("signal")])
def test_one_failure_fails_the_cable_whatever_else_was_read(key):
    bad = (
        False
        if isinstance(GOOD[key], bool)
        else Decimal("0.001")
        if key == "insulation_mohm"
        else Decimal(999)
    )
    assert judge_test(PATCH, GOOD | {key: bad}).verdict == "failed"
    alone = judge_test(PATCH, {key: bad})
    assert alone.verdict == "failed"
    assert len(alone.failures) == 1


def test_a_capacitance_is_not_judged_where_nobody_recorded_the_cables():
    unknown = MadeAs("signal", 320)
    line = line_of(unknown, "pf", Decimal(42))
    assert (line.limit, line.verdict, line.why) == (
        "unknown",
        "not judged",
        "the pF/m of its cable is not recorded",
    )
    judged = judge_test(unknown, GOOD)
    assert (judged.verdict, judged.said) == ("passed", "passed; capacitance not judged")


def test_a_cable_passes_without_its_capacitance_and_says_so():
    judged = judge_test(PATCH, GOOD | {"pf": None})
    assert (judged.verdict, judged.said) == ("passed", "passed; capacitance not read")


def test_nothing_read_is_not_tested():
    assert judge_test(PATCH, {}).verdict == ""
    assert judge_test(PATCH, {}).said == "not tested"


def test_what_a_kind_does_not_have_is_left_aside():
    judged = judge_test(LEAD, {"listened": False})
    assert judged.verdict == ""
    assert [line.key for line in judged.lines] == ["tug", "wiggle_ohm", "polarity", "drop_mv"]


def test_the_verdict_is_said_with_what_failed_or_lacks():
    assert judge_test(PATCH, GOOD | {"tip_ohm": OVER}).said == "failed: tip to tip"
    assert judge_test(PATCH, {"tug": True}).said.startswith("not wholly tested, still to read: tip to tip, ")
    assert line_of(LEAD, "drop_mv", Decimal(150)).read == "0.15 V"
    assert line_of(PATCH, "crossed", False).read == "not open"


def test_every_test_is_of_some_kind_and_says_what_it_finds():
    assert all(test.kinds and test.finds and test.how for test in BENCH_TESTS)
    assert all((test.limit is None) == bool(test.right) for test in BENCH_TESTS)
