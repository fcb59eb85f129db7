"""What holds where nothing is written: the board-file format's defaults, and nothing else filled in."""

import pytest

from boardshop.core.plan import (
    DrawerItem,
    EndJack,
    OutletSetting,
    Place,
    Point,
    PowerJack,
    Rules,
    SupplyLead,
    SupplyPlace,
    Tier,
)
from tests.core.documents import full_document, load, small_document

DEFAULT_RULES = {
    "school": "common", "headroom_percent": 20, "drop_percent": 3, "slack_percent": 3, "slack_min_mm": 10,
    "round_up_mm": 5, "kerf_mm": 2, "trim_mm": 10, "keep_offcut_mm": 130, "gap_mm": 4, "plug_gap_mm": 2,
    "under_gap_mm": 3, "switch_gap_mm": 75, "switch_min_mm": 60, "together_mm": (75, 130), "reach_mm": 260,
    "spare_percent": 10, "pass_mm": 50, "bypass_pf": 20, "contact_ohm": 0.04,
}  # fmt: skip


def only(key, **record):
    return load(small_document(**{key: [record]}))


def test_the_rules_are_the_formats():
    assert load(small_document()).rules == Rules(**DEFAULT_RULES)


def test_one_rule_may_be_changed_alone_and_may_be_zero():
    rules = load(small_document(rules={"gap_mm": 0, "contact_ohm": 0, "together_mm": None})).rules
    assert rules == Rules(**(DEFAULT_RULES | {"gap_mm": 0, "contact_ohm": 0}))


def test_a_frame_is_slotted_with_one_flat_band_and_leads_at_its_rear_corners():
    frame = load(small_document()).frame
    assert (frame.surface, frame.tiers) == ("slotted", (Tier(0, 320, 0),))
    assert (frame.entry, frame.exit) == (Point(600, 320), Point(0, 320))
    assert (frame.lid, frame.under, frame.weight, frame.plate_thickness) == (None,) * 4


def test_half_a_point_is_filled_from_its_corner():
    frame = {"width": 600, "depth": 320, "in": {"y": 200}, "out": {"x": 10}}
    loaded = load(small_document(frame=frame)).frame
    assert (loaded.entry, loaded.exit) == (Point(600, 200), Point(10, 320))


def test_a_tier_without_a_height_is_flat():
    frame = {"width": 600, "depth": 320, "tiers": [{"from": 0, "to": 150}]}
    assert load(small_document(frame=frame)).frame.tiers == (Tier(0, 150, 0),)


def test_of_a_pedal_nothing_is_known_but_what_is_written():
    pedal = only("pedals", ref="P1", kind="fuzz", width=73, depth=130).pedals[0]
    assert (pedal.turns, pedal.use, pedal.input_pf) == ((0,), 0, 0)
    unknown = (
        "height",
        "weight",
        "treadle",
        "toe_height",
        "screw_length",
        "bypass",
        "on",
        "input_ohm",
        "circuit",
        "level",
        "tracker",
        "place",
    )
    assert [getattr(pedal, name) for name in unknown] == [None] * len(unknown)
    assert (pedal.jacks, pedal.switches, pedal.power, pedal.together) == ((), (), (), ())


def test_no_allowed_turn_at_all_means_the_default():
    assert only("pedals", ref="P1", kind="fuzz", width=73, depth=130, turns=[]).pedals[0].turns == (0,)


def test_one_power_jack_is_called_dc():
    pedal = only("pedals", ref="P1", kind="fuzz", width=73, depth=130, power={"rated": 5}).pedals[0]
    assert pedal.power == (PowerJack("DC", rated=5),)


def test_a_power_jack_that_is_not_described_is_there_and_unknown():
    jacks = [{"name": "DC", "role": "power"}, {"name": "IN", "role": "in"}]
    pedal = only("pedals", ref="P1", kind="fuzz", width=73, depth=130, jacks=jacks).pedals[0]
    assert pedal.power == (PowerJack("DC"),)


@pytest.mark.parametrize(
    ("given", "earthed"),
    [({}, True), ({"class": "I"}, True), ({"class": "II"}, None), ({"class": "I", "earthed": False}, False)],
)
def test_a_class_i_amp_is_earthed_unless_it_says_otherwise(given, earthed):
    assert only("amps", ref="A1", **given).amps[0].earthed is earthed


def test_an_amp_has_one_input_unless_it_says_otherwise():
    assert only("amps", ref="A1").amps[0].jacks == (EndJack("IN", "in"),)
    assert only("amps", ref="A1", jacks=[]).amps[0].jacks == ()
    assert only("amps", ref="A1").amps[0].protection_class == "I"


def test_a_supplys_class_is_never_assumed():
    supply = only("supplies", ref="S1").supplies[0]
    assert (supply.protection_class, supply.earthed, supply.limit_mw) == (None, None, None)
    assert (supply.outlet_side, supply.inlet_side, supply.conversion) == (None, None, None)


@pytest.mark.parametrize(
    ("given", "bend"), [({"diameter": 4.3}, 21.5), ({"diameter": 4.3, "min_bend": 9}, 9), ({}, None)]
)
def test_a_cable_bends_at_five_diameters(given, bend):
    assert only("cables", ref="C1", **given).cables[0].min_bend == bend


def test_a_link_runs_on_top_carries_signal_and_joins_screens():
    link = load(full_document()).links[1]
    assert (link.route, link.carries, link.screen, link.length) == ("top", "signal", "joined", None)


def test_a_fixed_voltage_is_a_range_of_one():
    outlet = load(full_document()).supplies[0].outlets
    assert outlet[0].settings == (OutletSetting(9000, 9000, 100), OutletSetting(12000, 12000, 80))
    assert outlet[1].settings == (OutletSetting(5000, 9000, 90),)


def test_places_are_unturned_and_on_top():
    document = full_document()
    document["pedals"][0]["place"] = {"x": 5, "y": 6}
    document["supplies"][0]["place"] = {"x": 7, "y": 8}
    plan = load(document)
    assert plan.pedals[0].place == Place(5, 6, 0)
    assert plan.supplies[0].place == SupplyPlace(7, 8, 0, False)


def test_a_feed_without_a_setting_has_none_for_each_outlet():
    document = full_document()
    document["feeds"][0] |= {"from": ["S1.1", "S1.2"], "setting": None}
    assert load(document).feeds[0].settings == (None, None)
    document["feeds"][0]["setting"] = 9000
    assert load(document).feeds[0].settings == (9000, 9000)


def test_names_are_taken_as_their_definition_spells_them():
    document = full_document()
    document["links"][1] |= {"from": "p1.out", "cable": "c1", "plug_from": "j1"}
    document["feeds"][0] |= {"from": "s1.1", "to": "p1.dc"}
    document["scenes"][0]["on"] = ["p2"]
    plan = load(document)
    link, feed = plan.links[1], plan.feeds[0]
    assert (link.source, link.cable, link.plug_from) == ("P1.OUT", "C1", "J1")
    assert (feed.outlets, feed.jacks) == (("S1.1",), ("P1.DC",))
    assert plan.scenes[0].on == ("P2",)


def test_what_is_half_recorded_is_kept_as_incomplete():
    document = full_document()
    document["frame"]["keepouts"][0].pop("depth")
    document["pedals"][0]["switches"].append({"x": 5})
    document["supplies"][0]["outlets"][0]["settings"][1].pop("mv")
    document["pedals"][0]["place"]["y"] = None
    plan = load(document)
    assert plan.frame.keepouts == ()
    assert plan.pedals[0].place is None
    assert [(entry.where, entry.lacks) for entry in plan.incomplete] == [
        ("frame/keepouts", ("depth",)),
        ("P1/switches", ("y",)),
        ("P1/place", ("y",)),
        ("S1.1/settings", ("mv",)),
    ]


def test_leads_that_come_with_a_supply_are_one_of_a_sort_where_no_count_is_written():
    leads = [{"length": 450, "awg": 22, "count": 4}, {}]
    supply = only("supplies", ref="S1", leads=leads, price=139.5).supplies[0]
    assert (supply.leads, supply.price) == ((SupplyLead(450, awg=22, count=4), SupplyLead(count=1)), 139.5)


def test_of_a_supply_nobody_looked_into_nothing_comes_along():
    supply = only("supplies", ref="S1").supplies[0]
    assert (supply.leads, supply.price) == ((), None)


def test_a_thing_in_the_drawer_is_one_where_no_count_is_written():
    lead = {"kind": "lead", "length": 600, "mm2": 0.5, "connector": "snap", "count": 3}
    drawer = load(small_document(drawer=[{"kind": "reverser"}, lead])).drawer
    assert drawer == (DrawerItem("reverser"), DrawerItem("lead", 600, mm2=0.5, connector="snap", count=3))
    assert load(small_document()).drawer == ()
