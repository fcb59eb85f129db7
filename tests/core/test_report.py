"""The report as a whole: its sections, what is kept on purpose, and that any allowed board gets one."""

import json
from dataclasses import fields, replace

import pytest
from hypothesis import HealthCheck, given, settings

from boardshop.core.boardfile import load_plan_text
from boardshop.core.grounds import compute_grounds
from boardshop.core.order import compute_order
from boardshop.core.plan import Accepted, Incomplete, SupplyPlace
from boardshop.core.power import compute_power
from boardshop.core.printing import as_json
from boardshop.core.report import HOME_OF_LETTER, compute_kept_order, compute_report, without_places
from boardshop.core.vocabulary import SEVERITIES
from tests.core.builders import amp, board, pedal, supply, wired_board
from tests.core.documents import full_document, load, small_document
from tests.core.random_boards import documents

SECTIONS = ["order", "layout", "cables", "tone", "power", "grounds", "weight"]

KEYS = {
    "order": ["chain", "suggested", "moves", "moved", "answers", "more", "links_changed"],
    "layout": ["free_percent", "tiers", "centre_of_mass"],
    "cables": ["runs", "cut_total_mm", "cut_plan", "parts"],
    "tone": ["sources"],
    "power": ["outlets", "groups", "supplies", "drops", "unfed"],
    "grounds": ["loops", "cycle_basis", "breaks"],
    "weight": ["board_g", "counted", "unknown"],
}
FINDING = ["rule", "severity", "subjects", "message", "cure", "basis", "accepted"]


def report_of(document):
    return as_json(compute_report(load(document)))


def all_findings(report):
    return [finding for name in SECTIONS for finding in report[name]["findings"]]


def test_the_sections_and_their_keys_are_the_formats():
    report = report_of(full_document())
    assert list(report) == ["format", "version", *SECTIONS]
    assert (report["format"], report["version"]) == ("boardshop-report", 1)
    for name in SECTIONS:
        assert list(report[name]) == [*KEYS[name], "findings"], name


def test_every_finding_is_whole_and_worst_come_first():
    report = report_of(full_document())
    found = all_findings(report)
    assert found
    for finding in found:
        assert list(finding) == FINDING
        assert finding["message"].endswith((".", "}.")), finding
        assert finding["cure"]
        assert finding["basis"]
    for name in SECTIONS:
        ranks = [SEVERITIES.index(finding["severity"]) for finding in report[name]["findings"]]
        assert ranks == sorted(ranks)


def test_an_empty_frame_has_a_report():
    report = report_of(small_document())
    assert report["layout"]["free_percent"] == 100.0
    assert [finding["rule"] for finding in all_findings(report)] == ["M01"]


def test_tier_keys_are_the_formats():
    assert report_of(small_document())["layout"]["tiers"] == [{"from": 0, "to": 320, "used_percent": 0.0}]


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
@given(documents())
def test_any_allowed_board_gets_a_report(document):
    plan = load_plan_text(json.dumps(document))
    report = compute_report(plan)
    json.dumps(as_json(report), allow_nan=False)
    for finding in report.findings:
        assert finding.severity in SEVERITIES
        assert finding.rule[0] in HOME_OF_LETTER
    assert compute_kept_order(plan) == report.order


@pytest.mark.long
@settings(max_examples=1500, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
@given(documents())
def test_many_allowed_boards_get_a_report(document):
    json.dumps(as_json(compute_report(load_plan_text(json.dumps(document)))), allow_nan=False)


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
@given(documents())
def test_order_power_and_grounds_do_not_ask_where_things_stand(document):
    plan = load_plan_text(json.dumps(document))
    for compute in (compute_order, compute_power, compute_grounds):
        assert compute(without_places(plan)) == compute(plan)


def test_a_pedal_that_is_moved_is_judged_where_it_stands_now():
    far, near = (
        wired_board(pedal("P1", at=(0, 0)), pedal("P2", at=(x, 0)), pedal("P3", at=(400, 0)))
        for x in (200, 40)
    )
    assert "L03" not in {finding.rule for finding in compute_report(far).findings}
    assert "L03" in {finding.rule for finding in compute_report(near).findings}
    assert compute_report(far).order == compute_report(near).order


# --- kept on purpose


def overlapping(*accepted):
    pedals = pedal("P1", at=(0, 0)), pedal("P2", at=(70, 0))
    return board(*pedals, accepted=accepted)


def layout_finding(plan, rule):
    return [finding for finding in compute_report(plan).layout.findings if finding.rule == rule]


def test_a_finding_is_kept_with_its_reason():
    reason = Accepted("L03", ("p2", "P1"), "foam between them", "Ira", "2026-02-28")
    (kept,) = layout_finding(overlapping(reason), "L03")
    assert kept.accepted == reason
    assert layout_finding(overlapping(reason), "K03") == []
    assert as_json(kept)["accepted"] == {
        "rule": "L03", "subjects": ["p2", "P1"], "why": "foam between them", "by": "Ira", "on": "2026-02-28",
    }  # fmt: skip


def test_danger_is_never_kept_and_the_mark_is_reported():
    unearthed = wired_board(amps=[amp(earthed=False)])
    (danger,) = [f for f in compute_report(unearthed).grounds.findings if f.severity == "danger"]
    report = compute_report(replace(unearthed, accepted=(Accepted(danger.rule, danger.subjects, "hum"),)))
    still = [f for f in report.findings if f.severity == "danger"]
    assert still
    assert all(finding.accepted is None for finding in still)
    assert [f.subjects for f in report.grounds.findings if f.rule == "K01"] == [danger.subjects]


@pytest.mark.parametrize(
    ("rule", "home"),
    [("R06", "order"), ("O02", "order"), ("LEVEL", "order"), ("L03", "layout"), ("C02", "cables"),
     ("T09", "tone"), ("P08", "power"), ("G01", "grounds"), ("M02", "weight"), ("Z99", "order"),
     ("", "order")],
)  # fmt: skip
def test_a_mark_that_keeps_nothing_is_reported_once_where_it_belongs(rule, home):
    report = compute_report(board(accepted=(Accepted(rule, ("P9",), "gone"),)))
    told = [(f.name, finding) for f in fields(report) if f.name in SECTIONS
            for finding in getattr(report, f.name).findings if finding.rule == "K03"]  # fmt: skip
    ((section, finding),) = told
    assert (section, finding.severity, finding.subjects) == (home, "advice", ("P9",))


def test_the_order_alone_is_the_reports_order():
    plan = load(full_document())
    assert compute_kept_order(plan) == compute_report(plan).order


# --- half recorded


def test_half_recorded_entries_are_named_where_they_would_count():
    entries = ("frame/keepouts", "P1/switches", "S1.1/settings", "stock", "pieces")
    plan = replace(
        board(pedal("P1"), supplies=[replace(supply(), place=SupplyPlace(0, 0))]),
        incomplete=tuple(Incomplete(where, ("x",), "{}") for where in entries),
    )
    report = compute_report(plan)
    told = {
        name: [f.subjects for f in getattr(report, name).findings if f.rule == "K02"] for name in SECTIONS
    }
    assert {name: subjects for name, subjects in told.items() if subjects} == {
        "layout": [("P1",), ("frame",)],
        "cables": [("pieces",), ("stock",)],
        "power": [("S1.1",)],
    }
