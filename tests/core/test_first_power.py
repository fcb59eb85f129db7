"""The plugs that are metered at the first power-on, and what to expect at each."""

from dataclasses import replace

from boardshop.core.plan import BoardPlan, DcLead, OutletSetting, Tail
from boardshop.core.power import compute_power
from boardshop.core.power.first_power import PowerStep, list_power_steps, tell_apart
from tests.core.builders import board, draws, feed, outlet, pedal, supply
from tests.core.feeding_cases import fed_board, joined_board, selectable, shared_board

# On S2 one outlet feeds a chain; on S1 the second outlet was fed before the first.
#   S1.2 -> P1      S1.1 -> P2      S2.1 -> P3, P4


def three_supplies() -> BoardPlan:
    pedals = [pedal(f"P{n}", name=f"Pedal {n}") for n in range(1, 5)]
    chain = DcLead(length=300, awg=24, tails=(Tail(100, awg=24), Tail(200, awg=24)))
    feeds = [
        feed("S2.1", ["P4.DC", "P3.DC"], lead=chain),
        feed("S1.2", "P1.DC"),
        feed("S1.1", "P2.DC"),
    ]
    return board(*pedals, supplies=[supply("S1"), supply("S2")], feeds=feeds)


def only_step(plan: BoardPlan) -> PowerStep:
    (step,) = list_power_steps(plan, compute_power(plan).findings)
    return step


def test_steps_go_by_supply_and_outlet_with_one_for_each_plug_of_a_chain() -> None:
    steps = list_power_steps(three_supplies())
    assert [(step.supply, step.outlets, step.end) for step in steps] == [
        ("S1", ("S1.1",), "P2.DC"),
        ("S1", ("S1.2",), "P1.DC"),
        ("S2", ("S2.1",), "P4.DC"),
        ("S2", ("S2.1",), "P3.DC"),
    ]


def test_a_plug_knows_who_else_draws_on_its_outlet() -> None:
    shared = {step.end: step.shares_with for step in list_power_steps(three_supplies())}
    assert shared == {"P1.DC": (), "P2.DC": (), "P4.DC": ("P3.DC",), "P3.DC": ("P4.DC",)}


def test_a_board_that_nothing_feeds_has_no_step() -> None:
    assert list_power_steps(board(pedal("P1"), supplies=[supply()])) == ()


def test_what_is_expected_at_a_plain_plug() -> None:
    step = only_step(fed_board())
    assert (step.expected_mv, step.current, step.polarity) == (9000, "dc", "centre-negative")
    assert (step.connector, step.limit_ma, step.reads_higher) == ("barrel 5.5/2.1", 100, False)
    assert (step.can_be_turned, step.barred_by) == (False, ())


def test_outlets_in_series_are_one_step_with_their_sum() -> None:
    step = only_step(joined_board("series", draws(pedal("P1"), nominal=18_000, max=18_000)))
    assert (step.outlets, step.joining, step.expected_mv) == (("S1.1", "S1.2"), "series", 18_000)
    # In series the current is the same through both: the smaller limit holds.
    assert step.limit_ma == 100


def test_outlets_in_parallel_give_one_voltage_and_each_half_the_current() -> None:
    step = only_step(joined_board("parallel", pedal("P1")))
    assert (step.joining, step.expected_mv) == ("parallel", 9000)


def test_how_outlets_are_joined_is_not_guessed() -> None:
    step = only_step(joined_board("", pedal("P1")))
    assert (step.joining, step.expected_mv) == ("unclear", None)


def test_a_setting_that_nobody_recorded_stays_unknown() -> None:
    assert only_step(fed_board(an_outlet=selectable())).expected_mv is None
    assert only_step(fed_board(an_outlet=selectable(), setting=18_000)).expected_mv == 18_000


def test_a_reverser_turns_the_polarity_at_the_plug_and_two_turn_it_back() -> None:
    assert only_step(fed_board(adapters=("reverser",))).polarity == "centre-positive"
    assert only_step(fed_board(adapters=("reverser", "reverser"))).polarity == "centre-negative"


def test_a_converters_wiring_is_unknown_until_it_is_metered() -> None:
    step = only_step(fed_board(draws(pedal("P1"), connector="3.5 mono"), adapters=("converter",)))
    assert (step.polarity, step.connector) == (None, "3.5 mono")


def test_an_ac_outlet_has_no_polarity() -> None:
    step = only_step(fed_board(draws(pedal("P1"), current="ac"), outlet("1", current="ac")))
    assert (step.current, step.polarity) == ("ac", None)


def test_what_is_not_recorded_of_an_outlet_is_unknown() -> None:
    bare = outlet("1", current=None, polarity=None, connector=None, settings=(), regulated=None)
    step = only_step(fed_board(an_outlet=bare, lead=None))
    values = (step.expected_mv, step.current, step.polarity, step.connector, step.limit_ma)
    assert values == (None, None, None, None, None)


def test_an_outlet_that_is_not_regulated_reads_higher_without_load() -> None:
    # Common practice: 1.3 to 1.6 times the printed voltage.
    step = only_step(fed_board(an_outlet=outlet("1", regulated=False)))
    assert step.span is not None
    assert (step.span.open_low, step.span.open_high, step.reads_higher) == (11_700, 14_400, True)


def test_a_switch_or_a_sag_knob_can_be_turned_by_hand() -> None:
    assert only_step(fed_board(an_outlet=selectable(), setting=9000)).can_be_turned
    assert only_step(fed_board(an_outlet=outlet("1", sag=True))).can_be_turned


def test_what_would_destroy_the_pedal_bars_its_plug() -> None:
    step = only_step(fed_board(draws(pedal("P1"), polarity="centre-positive")))
    assert [(one.rule, one.severity) for one in step.barred_by] == [("P05", "damage")]


def test_unlike_ground_poles_on_one_return_bar_both_plugs() -> None:
    plan = shared_board(draws(pedal("P1"), ground_pole="positive"), pedal("P2"))
    steps = list_power_steps(plan, compute_power(plan).findings)
    assert [[one.rule for one in step.barred_by] for step in steps] == [["P06"], ["P06"]]


def test_a_fault_bars_nothing() -> None:
    plan = fed_board(draws(pedal("P1"), rated=200))
    assert [one.rule for one in compute_power(plan).findings] == ["P08"]
    assert only_step(plan).barred_by == ()


def changes(then: BoardPlan, now: BoardPlan) -> tuple[str, ...]:
    before, after = only_step(then), only_step(now)
    return tell_apart(before.expects, after.expects)


def test_the_same_feed_is_told_as_the_same() -> None:
    assert changes(fed_board(), fed_board()) == ()


def test_another_setting_outlet_adapter_lead_or_pedal_is_told() -> None:
    plan = fed_board(an_outlet=selectable(), setting=9000)
    turned = fed_board(an_outlet=selectable(), setting=18_000)
    assert changes(plan, turned) == ("set to: 9 V then, 18 V now",)
    reversed_lead = fed_board(adapters=("reverser",))
    assert changes(fed_board(), reversed_lead) == ("adapters: none then, reverser now",)
    longer = fed_board(lead=DcLead(length=700, awg=24, connector="barrel 5.5/2.1"))
    assert changes(fed_board(), longer) == ("lead: 600 mm, AWG 24 then, 700 mm, AWG 24 now",)
    other = fed_board(pedal("P1", name="Low Ember", unit="0042"))
    assert changes(fed_board(pedal("P1", name="Low Ember")), other) == (
        "pedal: Low Ember then, Low Ember 0042 now",
    )


def test_another_supply_under_the_same_ref_is_told() -> None:
    plan = fed_board()
    swapped = replace(plan, supplies=(replace(plan.supplies[0], model="Ridge 8"),))
    assert changes(plan, swapped) == ("supply: not recorded then, Ridge 8 now",)


def test_the_limits_of_the_pedal_are_no_part_of_what_was_metered() -> None:
    assert changes(fed_board(), fed_board(draws(pedal("P1"), max=18_000, rated=300))) == ()


def test_a_fact_that_an_older_reading_did_not_keep_counts_as_not_recorded() -> None:
    step = only_step(fed_board())
    short = [pair for pair in step.expects if pair[0] != "supply"]
    assert tell_apart(short, step.expects) == ()
    assert tell_apart([], step.expects)[0] == "outlet: not recorded then, S1.1 now"


def test_a_variable_outlet_is_expected_at_what_was_chosen() -> None:
    variable = outlet("1", settings=(OutletSetting(9000, 18_000, 100),))
    assert only_step(fed_board(an_outlet=variable, setting=10_500)).expected_mv == 10_500
