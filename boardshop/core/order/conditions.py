"""What a rule asks of two pedals on a path beyond their slots: yes, no, or which value nobody recorded."""

from collections.abc import Callable
from dataclasses import dataclass

from boardshop.core.index import fold, split_end
from boardshop.core.order.engaged import Acting, acts
from boardshop.core.order.paths import SignalPath
from boardshop.core.order.ranks import VINTAGE_BELOW_OHM
from boardshop.core.plan import Pedal

HIGH_POT_OHM = VINTAGE_BELOW_OHM
"""Divides the two usual passive volume treadles, 250 k and 25 k; common practice."""

BUFFER_OUTPUT_OHM = 5_000
"""The most a buffer's output shows; common practice."""

CLOSE_LINK_MM = 500
"""A buffer this near behind a high-value pot saves its treble; common practice."""


@dataclass(frozen=True, slots=True)
class Missing:
    """A value that decides the answer and that nobody recorded, by its name in the board file."""

    ref: str
    value: str


type Answer = bool | Missing


@dataclass(frozen=True, slots=True)
class Pair:
    """Two pedals on a path: ``first`` is the one that the rule wants nearer to the source."""

    first: Pedal
    then: Pedal
    path: SignalPath
    acting: Acting = None


type Condition = Callable[[Pair], Answer]


def all_of(*answers: Answer) -> Answer:
    """No beats not recorded, which beats yes; of several missing values the first is named."""
    if any(answer is False for answer in answers):
        return False
    return next((answer for answer in answers if isinstance(answer, Missing)), True)


def not_(answer: Answer) -> Answer:
    return answer if isinstance(answer, Missing) else not answer


def is_vintage(pedal: Pedal) -> Answer:
    """Whether a fuzz loads the pickup so much that it needs it right in front."""
    if pedal.input_ohm is None:
        return Missing(pedal.ref, "input_ohm")
    return pedal.input_ohm < VINTAGE_BELOW_OHM


def drives_low(pedal: Pedal) -> Answer:
    """Whether what stands behind the pedal always meets a low source impedance, engaged or not."""
    if pedal.kind in ("expression", "midi-controller") or pedal.circuit == "passive":
        return False
    if pedal.kind in ("buffer", "wireless-receiver"):
        return True
    if pedal.bypass is None:
        return Missing(pedal.ref, "bypass")
    return pedal.bypass != "true"


def is_passive(pedal: Pedal) -> Answer:
    return Missing(pedal.ref, "circuit") if pedal.circuit is None else pedal.circuit == "passive"


def has_high_pot(pedal: Pedal) -> Answer:
    return Missing(pedal.ref, "input_ohm") if pedal.input_ohm is None else pedal.input_ohm >= HIGH_POT_OHM


def has_output_buffer(pedal: Pedal) -> Answer:
    """From the bypass, or a recorded output impedance; true bypass without one recorded means none."""
    if pedal.bypass == "buffered":
        return True
    if pedal.output_ohm is not None:
        return pedal.output_ohm <= BUFFER_OUTPUT_OHM
    return Missing(pedal.ref, "bypass") if pedal.bypass is None else False


def vintage_first(pair: Pair) -> Answer:
    return is_vintage(pair.first)


def vintage_and_low_source(pair: Pair) -> Answer:
    return all_of(is_vintage(pair.first), drives_low(pair.then))


def vintage_and_bare_wah(pair: Pair) -> Answer:
    return all_of(is_vintage(pair.first), not_(has_output_buffer(pair.then)))


def no_buffered_tuner_before_vintage(pair: Pair) -> Answer:
    return not_(all_of(is_vintage(pair.then), drives_low(pair.first)))


def modern_then(pair: Pair) -> Answer:
    return not_(is_vintage(pair.then))


def tracks_one_voice(pair: Pair) -> Answer:
    if pair.first.tracker is None:
        return Missing(pair.first.ref, "tracker")
    return pair.first.tracker == "mono"


def undriven_analog_octave(pair: Pair) -> Answer:
    """``then`` shifts without a tracker, in an analog circuit, and nothing that distorts stands before it."""
    pedals = pair.path.pedals
    before = pedals[: pedals.index(pair.then)]
    driving = (pedal for pedal in before if pedal.kind in ("fuzz", "overdrive", "distortion"))
    if any(acts(pair.acting, pedal) for pedal in driving):
        return False
    octave = pair.then
    if octave.tracker in ("mono", "poly") or octave.circuit not in (None, "analog"):
        return False
    if octave.circuit is None:
        return Missing(octave.ref, "circuit")
    return Missing(octave.ref, "tracker") if octave.tracker is None else True


def high_passive_pot_behind(pair: Pair) -> Answer:
    """``first`` is a passive high-value volume, ``then`` drives it, and no buffer follows it closely."""
    volume = pair.first
    driven = all_of(is_passive(volume), has_high_pot(volume), drives_low(pair.then))
    return driven and all_of(driven, not_(_buffer_follows_closely(volume, pair.path)))


def _buffer_follows_closely(volume: Pedal, path: SignalPath) -> Answer:
    position = path.pedals.index(volume)
    if position + 1 == len(path.pedals):
        return False
    following = path.pedals[position + 1]
    length = _link_length(volume, following, path)
    near: Answer = length if isinstance(length, Missing) else length <= CLOSE_LINK_MM
    return all_of(drives_low(following), near)


def _link_length(one: Pedal, other: Pedal, path: SignalPath) -> int | Missing:
    for link in path.links:
        refs = fold(split_end(link.source)[0]), fold(split_end(link.target)[0])
        if refs == (fold(one.ref), fold(other.ref)):
            length = link.made if link.made is not None else link.length
            return Missing(link.ref, "length") if length is None else length
    return CLOSE_LINK_MM + 1  # joined through another pedal's loop: not directly
