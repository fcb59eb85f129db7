"""A voltage off the label is told with both figures, even where the limits are not recorded."""

from boardshop.core.plan import BoardPlan
from boardshop.core.power import compute_power
from tests.core import builders as b


def voltage_unknowns(plan: BoardPlan, rule: str) -> list[str]:
    return [f.message for f in compute_power(plan).findings if (f.rule, f.severity) == (rule, "unknown")]


def test_a_series_pair_above_the_label_names_both_figures_where_no_highest_voltage_is_recorded() -> None:
    # Kirchhoff's voltage law: 9 V and 9 V in series are 18 V
    supply = b.supply("S1", b.outlet("1", series_ok=True), b.outlet("2", series_ok=True))
    pedal = b.draws(b.pedal("P1", name="Low Ember"), nominal=9000, max=None)
    feeds = [b.feed(["S1.1", "S1.2"], "P1.DC", adapters=("series",))]
    (message,) = voltage_unknowns(b.board(pedal, supplies=[supply], feeds=feeds), "P03")
    assert "give 18 V and Low Ember (P1.DC) is labelled 9 V" in message
    assert "Not recorded: the highest voltage for Low Ember (P1.DC)" in message


def test_an_outlet_below_the_label_names_both_figures_where_no_least_voltage_is_recorded() -> None:
    pedal = b.draws(b.pedal("P1"), nominal=12_000, min=None, max=None)
    plan = b.board(pedal, supplies=[b.supply("S1")], feeds=[b.feed("S1.1", "P1.DC")])
    (message,) = voltage_unknowns(plan, "P04")
    assert "S1.1 gives 9 V and" in message
    assert "is labelled 12 V" in message


def test_an_outlet_at_the_labels_voltage_says_no_more_than_what_is_not_recorded() -> None:
    pedal = b.draws(b.pedal("P1"), nominal=9000, min=None, max=None)
    plan = b.board(pedal, supplies=[b.supply("S1")], feeds=[b.feed("S1.1", "P1.DC")])
    assert not any("labelled" in f.message for f in compute_power(plan).findings)
