"""The pages about kinds: complete, in whole sentences, and in agreement with the ranks and the rules."""

import re
from collections import Counter
from itertools import pairwise

import pytest

from boardshop.core.kinds.notes import KIND_NOTES, KindNote
from boardshop.core.kinds.places import (
    KIND_OF,
    LINE,
    list_kinds,
    places_of,
    rules_of,
    say_slots,
    slots_of,
)
from boardshop.core.order.ranks import EFFECTS, MODULATIONS, RANKS
from boardshop.core.order.rules import PAIR_RULES
from boardshop.core.vocabulary import KINDS, SCHOOLS

RANKED = [kind for kind in KINDS if kind in RANKS]


def texts_of(note: KindNote) -> list[str]:
    return [note.does, note.stands, *(text for pair in note.otherwise for text in pair)]


def sentences(text: str) -> list[str]:
    return re.split(r"(?<=\.) ", text)


def number(slot: str, school: str) -> int:
    return RANKS[slot].common if school == "common" else RANKS[slot].dynamics_first


def test_every_kind_has_a_note() -> None:
    assert sorted(KIND_NOTES) == sorted(KINDS)


@pytest.mark.parametrize("kind", KINDS)
def test_a_note_is_short_and_in_whole_sentences(kind: str) -> None:
    note = KIND_NOTES[kind]
    assert 2 <= len(sentences(note.does)) <= 4
    assert 1 <= len(sentences(note.stands)) <= 3
    assert 1 <= len(note.otherwise) <= 3
    assert all(re.fullmatch(r"[A-Z][^\n]*[^.\s]\.", text) and "  " not in text for text in texts_of(note))


def test_no_sentence_stands_twice() -> None:
    said = Counter(
        part for note in KIND_NOTES.values() for text in texts_of(note) for part in sentences(text)
    )
    assert [sentence for sentence, count in said.items() if count > 1] == []


def test_the_summary_is_the_first_sentence() -> None:
    assert KindNote("It hums. It glows.", "", ()).summary == "It hums."
    assert KindNote("It hums.", "", ()).summary == "It hums."


SLOT = "|".join(sorted((slot.replace("-", " ") for slot in LINE), key=len, reverse=True))
ONE = rf"(?:the |a |an )?(?:input |modern )?(?:{SLOT})\b"
CLAIM = re.compile(rf"\b(in front of|behind) ({ONE}(?:(?:, | and )(?:the )?(?:{SLOT})\b)*)")

OTHER_ROLE = re.compile(r"the role |With another role")


def claims(text: str) -> list[tuple[str, bool, str]]:
    """(school, whether in front, slot) of every kind that a note's `stands` names; roles are left out."""
    found = []
    for sentence in re.split(r"(?<=[.;]) ", text):
        schools = [school for school in SCHOOLS if school in sentence] or list(SCHOOLS)
        for match in [] if OTHER_ROLE.search(sentence) else CLAIM.finditer(sentence):
            slots = [name.replace(" ", "-") for name in re.findall(rf"\b(?:{SLOT})\b", match[2])]
            slots = [slot.replace("vintage-fuzz", "vintage fuzz") for slot in slots]
            found += [(school, match[1] != "behind", slot) for school in schools for slot in slots]
    return found


def test_a_claim_is_read() -> None:
    text = "The common order has it behind the eq and the delay, in front of a vintage fuzz."
    wanted = [("common", False, "eq"), ("common", False, "delay"), ("common", True, "vintage fuzz")]
    assert claims(text) == wanted


@pytest.mark.parametrize("kind", RANKED)
def test_where_a_note_names_others_the_ranks_agree(kind: str) -> None:
    stands = KIND_NOTES[kind].stands
    assert "oth schools" in stands or "dynamics-first" in stands
    for school, is_first, slot in claims(stands):
        own, other = number(kind, school), number(slot, school)
        assert own < other if is_first else own > other, f"{kind}: {is_first=} {slot} in {school}"


def test_every_note_names_others() -> None:
    assert [kind for kind in RANKED if not claims(KIND_NOTES[kind].stands)] == []


@pytest.mark.parametrize("kind", [kind for kind in KINDS if kind not in RANKS])
def test_a_kind_without_a_number_says_so(kind: str) -> None:
    assert "It has no number" in KIND_NOTES[kind].stands


def test_kinds_are_listed_in_the_common_order() -> None:
    assert sorted(list_kinds()) == sorted(KINDS)
    numbers = [number(kind, "common") for kind in list_kinds() if kind in RANKS]
    assert numbers == sorted(numbers)
    assert list_kinds()[len(numbers) :] == tuple(kind for kind in KINDS if kind not in RANKS)


@pytest.mark.parametrize("school", SCHOOLS)
@pytest.mark.parametrize("slot", RANKS)
def test_neighbours_are_those_of_a_plain_sort(slot: str, school: str) -> None:
    place = next(place for place in places_of(KIND_OF[slot], school) if place.slot == slot)
    kinds = {other for other in RANKS if other in KINDS or other == "vintage fuzz"}
    others = {other for other in kinds if KIND_OF[other] != KIND_OF[slot]}
    line = sorted({number(other, school) for other in others} | {number(slot, school)})
    at = line.index(number(slot, school))
    before, behind = line[:at][-1:], line[at + 1 :][:1]
    assert set(place.before) == {other for other in others if [number(other, school)] == before}
    assert set(place.behind) == {other for other in others if [number(other, school)] == behind}


def test_the_neighbours_of_one_are_neighbours_back() -> None:
    ways = {slot: place for kind in RANKED for place in places_of(kind, "common") for slot in [place.slot]}
    for first, then in pairwise(["tuner", "noise-gate", "synth"]):
        assert then in ways[first].behind
        assert first in ways[then].before


def test_no_move_is_counted_inside_a_decade_of_the_common_order() -> None:
    (place,) = places_of("flanger", "common")
    assert set(place.level) == set(MODULATIONS) - {"flanger"}
    (place,) = places_of("flanger", "dynamics-first")
    assert place.level == ()


@pytest.mark.parametrize(
    ("kind", "slots"),
    [
        ("boost", [("boost", ("drive",)), ("output boost", ("level", "master"))]),
        ("buffer", [("buffer", ("input",)), ("output buffer", ("level", "master"))]),
        ("compressor", [("compressor", ()), ("limiter", ("level", "limiter"))]),
        ("tuner", [("tuner", ()), ("mute tuner", ("master",))]),
        ("fuzz", [("fuzz", ()), ("vintage fuzz", ())]),
        ("noise-gate", [("noise-gate", ())]),
        ("mixer", [("mixer", ())]),
    ],
)
def test_what_settles_several_places_is_told_apart(
    kind: str, slots: list[tuple[str, tuple[str, ...]]]
) -> None:
    for school in SCHOOLS:
        assert [(place.slot, place.roles) for place in places_of(kind, school)] == slots


def test_a_volume_stands_in_three_places_or_anywhere() -> None:
    places = {place.roles[0]: place for place in places_of("volume", "common")}
    assert [places[role].before for role in ("input", "swell", "master")] == [
        ("tuner",),
        ("eq",),
        ("looper",),
    ]
    assert places["drive"].number is None


@pytest.mark.parametrize("kind", RANKED)
def test_every_rule_that_names_a_kind_is_told(kind: str) -> None:
    told = [found.rule for found in rules_of(kind)]
    named = [rule for rule in PAIR_RULES if set(slots_of(kind)) & {*rule.first, *rule.then}]
    assert told[: len(named)] == named
    assert all("*" in (*rule.first, *rule.then) for rule in told[len(named) :])


def test_a_rule_is_told_from_both_sides() -> None:
    reverb = next(found for found in rules_of("reverb") if found.rule.id == "R22")
    delay = next(found for found in rules_of("delay") if found.rule.id == "R22")
    assert (reverb.is_first, reverb.others) == (False, ("delay",))
    assert (delay.is_first, delay.others) == (True, ("reverb",))


def test_a_rule_for_one_role_names_its_slot() -> None:
    swell = next(found for found in rules_of("volume") if found.rule.id == "R25")
    whole = next(found for found in rules_of("volume") if found.rule.id == "R26")
    assert (swell.slots, whole.slots, whole.others) == (("volume",), (), None)


def test_rules_for_every_pedal_come_last_and_controls_have_none() -> None:
    assert [found.rule.id for found in rules_of("other")] == ["R01", "R02", "R26", "R34"]
    assert rules_of("expression") == rules_of("midi-controller") == ()


@pytest.mark.parametrize(
    ("slots", "named", "means_all"),
    [
        (("fuzz", "vintage fuzz"), ("fuzz",), False),
        (("vintage fuzz",), ("vintage fuzz",), False),
        (("volume",), ("volume",), False),
        ((*EFFECTS, "synth"), ("synth",), True),
        (EFFECTS, (), True),
    ],
)
def test_long_sides_are_said_short(slots: tuple[str, ...], named: tuple[str, ...], means_all: bool) -> None:
    assert say_slots(slots) == (named, means_all)
