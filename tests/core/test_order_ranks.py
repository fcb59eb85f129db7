"""Slots and ranks against the trade's list of both schools (common practice), typed in a second time."""

import pytest

from boardshop.core.order import rank_of, slot_of
from boardshop.core.order.ranks import EFFECTS, RANKS
from boardshop.core.plan import Pedal
from boardshop.core.vocabulary import KINDS, ROLES

VINTAGE = {"input_ohm": 8_000}

# kind, role and other properties; number in the common school and in the dynamics-first one
TRADE_LIST = [
    ("wireless-receiver", None, {}, 0, 0),
    ("buffer", None, {}, 5, 5),
    ("buffer", "input", {}, 5, 5),
    ("buffer", "master", {}, 145, 145),
    ("tuner", None, {}, 10, 10),
    ("noise-gate", None, {}, 20, 75),
    ("fuzz", None, VINTAGE, 30, 20),
    ("fuzz", None, {}, 30, 50),
    ("bit-crusher", None, {}, 35, 88),
    ("wah", None, {}, 40, 30),
    ("envelope-filter", None, {}, 41, 31),
    ("compressor", None, {}, 50, 40),
    ("pitch-shifter", None, {}, 60, 35),
    ("harmoniser", None, {}, 62, 89),
    ("ring-modulator", None, {}, 64, 86),
    ("synth", None, {}, 25, 15),
    ("boost", None, {}, 70, 58),
    ("boost", "drive", {}, 70, 58),
    ("boost", "level", {}, 130, 120),
    ("overdrive", None, {}, 71, 60),
    ("distortion", None, {}, 80, 70),
    ("preamp", None, {}, 84, 78),
    ("eq", None, {}, 86, 80),
    ("eq", "drive", {}, 86, 80),
    ("volume", "input", {}, 12, 12),
    ("volume", None, {}, 88, 85),
    ("volume", "swell", {}, 88, 85),
    ("volume", "master", {}, 145, 145),
    ("phaser", None, {}, 90, 90),
    ("flanger", None, {}, 92, 92),
    ("vibrato", None, {}, 94, 94),
    ("chorus", None, {}, 96, 96),
    ("rotary", None, {}, 98, 98),
    ("modulation", None, {}, 90, 90),
    ("delay", None, {}, 100, 105),
    ("reverb", None, {}, 110, 110),
    ("tremolo", None, {}, 120, 95),
    ("looper", None, {}, 140, 130),
    ("cab-simulator", None, {}, 150, 150),
    ("di", None, {}, 160, 160),
]
UNRANKED = [
    ("eq", "level"),
    ("compressor", "limiter"),
    ("tuner", "master"),
    ("volume", "level"),
    *((kind, None) for kind in ("splitter", "mixer", "switcher", "expression", "midi-controller", "other")),
]


def a_pedal(kind: str, role: str | None, **values: int) -> Pedal:
    return Pedal("P1", kind, 73, 130, role=role, **values)  # type: ignore[arg-type]


@pytest.mark.parametrize(("kind", "role", "values", "common", "dynamics_first"), TRADE_LIST)
def test_rank_is_the_trades(
    kind: str, role: str | None, values: dict[str, int], common: int, dynamics_first: int
) -> None:
    one = a_pedal(kind, role, **values)
    assert rank_of(one, "common") == common // 10  # ranks of one decade are equal
    assert rank_of(one, "dynamics-first") == dynamics_first


@pytest.mark.parametrize(("kind", "role"), UNRANKED)
def test_pedal_without_a_place_of_its_own_has_no_rank(kind: str, role: str | None) -> None:
    assert rank_of(a_pedal(kind, role), "common") is None
    assert rank_of(a_pedal(kind, role), "dynamics-first") is None


def test_every_kind_is_ranked_or_knowingly_not() -> None:
    assert {row[0] for row in TRADE_LIST} | {kind for kind, _ in UNRANKED} == set(KINDS)


@pytest.mark.parametrize(
    ("input_ohm", "slot"),
    [(99_999, "vintage fuzz"), (100_000, "fuzz"), (100_001, "fuzz"), (None, "fuzz"), (0, "vintage fuzz")],
)
def test_fuzz_is_vintage_below_100_k(input_ohm: int | None, slot: str) -> None:
    assert slot_of(Pedal("P1", "fuzz", 73, 130, input_ohm=input_ohm)) == slot


def test_a_role_that_says_nothing_about_a_kind_is_ignored() -> None:
    for role in ROLES:
        assert slot_of(a_pedal("overdrive", role)) == "overdrive"


def test_every_ranked_slot_is_some_pedals() -> None:
    made = {slot_of(a_pedal(kind, role)) for kind in KINDS for role in (None, *ROLES)} | {"vintage fuzz"}
    assert set(RANKS) <= made
    assert set(EFFECTS) <= made
