"""Findings that repeat: what is gathered, what the entry says, and that nothing gets lost on the way."""

from collections import Counter
from dataclasses import replace

from hypothesis import HealthCheck, given, settings

from boardshop.core.findings import Finding
from boardshop.core.plan import Accepted, BoardPlan
from boardshop.core.repeats import Repeats, group_repeats
from boardshop.core.report import compute_report
from boardshop.core.vocabulary import SEVERITIES
from tests.core.builders import board, draws, feed, outlet, pedal, supply
from tests.core.documents import load
from tests.core.random_boards import documents

PLAN = board(
    pedal("P1", name="Low Ember"),
    pedal("P2", name="Far Shed (2)"),
    pedal("P3"),
    pedal("P4", name="Low Ember"),
    supplies=[supply("S1")],
)
WANTED = {
    "P1.DC": "Low Ember (P1.DC)",
    "P2.DC": "Far Shed (2) (P2.DC)",
    "P3.DC": "P3.DC",
    "P4.DC": "Low Ember (P4.DC)",
}


def lacks_draw(jack: str, **values: object) -> Finding:
    said = f"Not recorded: the draw of {WANTED[jack]}. It cannot be checked."
    outlet_ref = f"S1.{jack[1]}"
    return Finding("P27", "unknown", (outlet_ref, jack), said, "Measure it.", "common practice", **values)


def found(rule: str, severity: str, *messages: str) -> list[Finding]:
    return [Finding(rule, severity, (f"P{n}",), text, "", "") for n, text in enumerate(messages, start=1)]


def gathered(*findings: Finding) -> list[Repeats[Finding]]:
    return list(group_repeats(PLAN, findings))


def test_what_differs_by_its_subjects_alone_is_one_entry_that_names_them() -> None:
    (entry,) = gathered(*map(lacks_draw, WANTED))
    names = "Low Ember (P1.DC), Far Shed (2) (P2.DC), P3.DC and Low Ember (P4.DC)"
    assert entry.message == f"Not recorded: the draw of {names}. It cannot be checked."
    assert (entry.cure, entry.basis, entry.is_alike) == ("Measure it.", "common practice", True)
    assert entry.subjects == ("S1.1", "P1.DC", "S1.2", "P2.DC", "S1.3", "P3.DC", "S1.4", "P4.DC")


def test_two_that_are_alike_are_one_entry() -> None:
    assert len(gathered(lacks_draw("P1.DC"), lacks_draw("P3.DC"))) == 1


def test_one_alone_says_what_it_says() -> None:
    (entry,) = gathered(lacks_draw("P1.DC"))
    assert (entry.is_single, entry.message) == (True, lacks_draw("P1.DC").message)


def test_two_that_differ_by_more_stay_two() -> None:
    entries = gathered(*found("P08", "fault", "P1 carries 120 mA.", "P2 carries 130 mA."))
    assert [entry.is_single for entry in entries] == [True, True]


SHARING = [f"P{n} carries {n}00 mW. It stands the margin." for n in (1, 2, 3, 4)]
"""Not alike, since the figures are their own, but of one sentence."""


def test_four_of_one_rule_are_one_entry_that_says_what_they_have_in_common() -> None:
    (entry,) = gathered(*found("P08", "advice", *SHARING))
    assert (entry.message, entry.is_alike) == ("It stands the margin.", False)
    assert entry.subjects == ("P1", "P2", "P3", "P4")


def test_three_that_share_a_sentence_are_said_each_by_itself() -> None:
    entries = gathered(*found("P08", "advice", *SHARING[:3]))
    assert [entry.message for entry in entries] == SHARING[:3]


def test_what_each_adds_to_the_common_sentence_is_kept() -> None:
    (entry,) = gathered(*found("P08", "advice", *SHARING[:3], "It stands the margin."))
    assert entry.rests == ("P1 carries 100 mW.", "P2 carries 200 mW.", "P3 carries 300 mW.", "P4")
    assert gathered(*map(lacks_draw, WANTED))[0].rests == ()


def test_what_has_cures_of_its_own_is_not_said_whole() -> None:
    sharing = found("P08", "advice", *SHARING)
    (entry,) = gathered(*(replace(one, cure="Take another.") for one in sharing))
    assert entry.is_said_whole
    (entry,) = gathered(*(replace(one, cure=f"Way {n}.") for n, one in enumerate(sharing)))
    assert not entry.is_said_whole


def test_a_rule_of_two_severities_is_two_entries() -> None:
    entries = gathered(*found("P08", "fault", *("Over.",) * 3), *found("P08", "advice", *("Near.",) * 3))
    assert [(entry.severity, len(entry.findings)) for entry in entries] == [("fault", 3), ("advice", 3)]


def test_what_can_hurt_or_destroy_is_never_folded_away() -> None:
    alike = [("Both P1 are reversed.", "Both P2 are reversed.")] * len(SEVERITIES)
    open_ = {
        severity: gathered(*found("P05", severity, *said))[0].must_stand_open
        for severity, said in zip(SEVERITIES, alike, strict=True)
    }
    assert [severity for severity, is_open in open_.items() if is_open] == ["danger", "damage"]


def test_what_the_entry_does_not_say_whole_stands_open_when_it_is_a_fault() -> None:
    unlike = [f"P{n} is {n} out. Move it." for n in (1, 2, 3, 4)]
    assert gathered(*found("L01", "fault", *unlike))[0].must_stand_open
    assert not gathered(*found("L01", "unknown", *unlike))[0].must_stand_open


def test_those_that_share_a_cure_alone_stay_single_since_the_entry_would_say_nothing() -> None:
    alone = [replace(one, cure="Move it.") for one in found("L01", "fault", "One.", "Two.", "Three.")]
    assert [entry.message for entry in gathered(*alone)] == ["One.", "Two.", "Three."]


def test_a_verb_of_one_thing_is_not_put_behind_several() -> None:
    said = [
        Finding("R05", "caution", (one, two), f"{one} comes before {two}: it is dulled.", "", "")
        for one, two in (("P1", "P3"), ("P4", "P3"))
    ]
    (entry,) = gathered(*said)
    assert entry.message == "P1 comes before P3: it is dulled. The same of P4 and P3."
    assert entry.is_alike


def test_unlike_ones_without_anything_in_common_stay_single() -> None:
    unlike = [
        Finding("C01", "unknown", ("P1",), f"{n} is lacking.", f"Get {n}.", "") for n in ("a", "b", "c")
    ]
    assert [entry.is_single for entry in gathered(*unlike)] == [True] * 3


def test_the_like_among_unlike_ones_are_one_entry() -> None:
    told = [("P1 lacks x.", "Get x."), ("Odd.", "Do it."), ("P3 lacks x.", "Get x."), ("Even.", "Leave it.")]
    unlike = [Finding("K02", "unknown", (f"P{n}",), *one, "") for n, one in enumerate(told, start=1)]
    assert [entry.message for entry in gathered(*unlike)] == ["P1 lacks x. The same of P3.", "Odd.", "Even."]


def test_messages_that_name_nobody_do_not_name_the_subjects() -> None:
    (silent,), (telling,) = (
        gathered(*found("L01", "unknown", *said))
        for said in (("It is lacking.",) * 2, ("P1 lacks it.", "P2 lacks it."))
    )
    assert (silent.names_subjects, telling.names_subjects) == (False, True)


def test_what_is_kept_on_purpose_stays_by_itself() -> None:
    kept = lacks_draw("P1.DC", accepted=Accepted("P27", ("S1.1", "P1.DC"), "borrowed"))
    entries = gathered(kept, lacks_draw("P2.DC"), lacks_draw("P3.DC"))
    assert [len(entry.findings) for entry in entries] == [1, 2]


def test_a_ref_is_not_found_inside_another() -> None:
    ten = Finding("X01", "unknown", ("P10",), "P10 lacks P1 and P1.DC.", "", "")
    one = Finding("X01", "unknown", ("P1",), "P1 lacks P1 and P1.DC.", "", "")
    assert [entry.is_single for entry in gathered(ten, one)] == [True, True]


def sparse_board(jacks: int) -> BoardPlan:
    """Every jack fed, and nothing recorded but that it is there."""
    nothing = dict.fromkeys(("nominal", "min", "max", "polarity", "connector", "rated", "ground_pole"))
    pedals = [draws(pedal(f"P{n}", name=f"Pedal {n}"), **nothing) for n in range(1, jacks + 1)]
    outlets = [outlet(str(n), connector=None) for n in range(1, jacks + 1)]
    feeds = [feed(f"S1.{n}", f"P{n}.DC", lead=None) for n in range(1, jacks + 1)]
    return board(*pedals, supplies=[supply("S1", *outlets)], feeds=feeds)


def test_a_sparse_board_has_as_many_entries_of_power_as_one_jack_has_findings() -> None:
    one, eight = (compute_report(sparse_board(n), 0).power.findings for n in (1, 8))
    assert len(eight) == 8 * len(one)
    assert len(group_repeats(sparse_board(8), eight)) == len({(f.rule, f.severity) for f in one})


@settings(max_examples=60, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
@given(documents())
def test_on_any_board_nothing_is_lost_doubled_or_moved_forward(document: dict[str, object]) -> None:
    plan = load(document)
    findings = compute_report(plan, 0).findings
    entries = group_repeats(plan, findings)
    assert Counter(one for entry in entries for one in entry.findings) == Counter(findings)
    firsts = [findings.index(entry.findings[0]) for entry in entries]
    assert firsts == sorted(firsts)
    said = Counter(
        (e.rule, e.severity, e.message, e.cure)
        for e in entries
        if e.is_single and e.findings[0].accepted is None
    )
    assert set(said.values()) <= {1}
