"""Which spare goes on a link: W1 of `pair()` takes 123 mm with two J1 plugs and is cut to 135 mm."""

from boardshop.core.cables.spares import SpareCable, rank_spares
from tests.core.builders import cable_type, plug_type
from tests.core.cable_boards import pair

FLAT, LOW = plug_type("J1"), cable_type("C1")
STRAIGHT = plug_type("J7", name="Straight", reach=40, inside=20)


def spare(code, length=150, **values):
    parts = {"cable": LOW, "plug_a": FLAT, "plug_b": FLAT, "verdict": "passed", "kind": "signal"} | values
    return SpareCable(code, parts.pop("kind"), length, **parts)


def ranked(*spares, plan=None):
    return rank_spares(plan or pair(), "w1", spares)


def test_the_best_is_the_one_with_the_least_too_many():
    fits = ranked(spare("2A", 400), spare("2B", 150), spare("2C", 135), spare("2D", 134))
    assert [fit.spare.code for fit in fits] == ["2C", "2B", "2A", "2D"]
    assert all(fit.fits for fit in fits)


def test_one_that_does_not_reach_comes_last_and_says_by_how_much():
    short, first = spare("2A", 122), spare("2B", 300)
    fits = ranked(short, first)
    assert [fit.spare.code for fit in fits] == ["2B", "2A"]
    assert [fit.fits for fit in fits] == [True, False]
    assert fits[1].reach.said == "does not reach, 1 mm too short"


def test_the_run_is_measured_with_the_spares_own_plugs():
    """Straight plugs stand out 26 mm further on each side: 47 mm of way, and 40 mm of cable inside."""
    (fit,) = ranked(spare("2A", 100, plug_a=STRAIGHT, plug_b=STRAIGHT))
    assert (fit.reach.state, fit.reach.spare_mm) == ("reaches", 13)


def test_tested_ones_come_first_and_failed_ones_do_not_fit():
    fits = ranked(spare("2A", verdict="failed"), spare("2B", verdict=""), spare("2C"))
    assert [fit.spare.code for fit in fits] == ["2C", "2B", "2A"]
    assert fits[1].notes == ("not tested, or not wholly",)
    assert fits[2].against == ("it failed its test",)


def test_a_cable_is_turned_where_its_plugs_want_it():
    plan = pair(plug_to="J7", plugs=(FLAT, STRAIGHT))
    straight_first = spare("2A", plug_a=STRAIGHT)
    assert [fit.is_turned for fit in ranked(straight_first, plan=plan)] == [True]
    assert [fit.is_turned for fit in ranked(spare("2B", plug_b=STRAIGHT), plan=plan)] == [False]


def test_another_kind_or_another_plug_is_said():
    fits = ranked(
        spare("2A", kind="midi"), spare("2B", plug_b=plug_type("J8", name="Five pole", connector="DIN 5"))
    )
    against = {fit.spare.code: fit.against[0] for fit in fits}
    assert against["2A"] == "it is made for midi, the link carries signal"
    assert against["2B"].startswith("its plug Five pole does not go into P")


def test_what_is_not_recorded_is_not_called_fitting_without_a_word():
    (fit,) = ranked(spare("2A", plug_a=None))
    assert (fit.reach.state, fit.notes) == ("unknown", ("a plug of it is not recorded",))


def test_a_given_lead_wants_its_own_length():
    plan = pair(length=6000)
    fits = ranked(spare("2A", 5999), spare("2B", 6000), plan=plan)
    assert [(fit.spare.code, fit.fits) for fit in fits] == [("2B", True), ("2A", False)]
