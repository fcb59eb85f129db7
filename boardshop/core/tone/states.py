"""What an instrument's signal meets in each state of the board, and what that does to its treble."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache

from boardshop.core.cables.runs import link_capacitances
from boardshop.core.index import fold, index_plan
from boardshop.core.plan import BoardPlan, Pedal, Source
from boardshop.core.printing import round_db, round_hz, round_ohm
from boardshop.core.tone.circuit import (
    PickupCircuit,
    corner_frequency,
    find_resonance,
    frequency_response,
    ideal_frequency,
    parallel,
)
from boardshop.core.tone.segments import Segment, WalkRules, list_segments

ALL_BYPASSED = "all_bypassed"
AS_USED = "as_used"
LEVELS_HZ = (1000, 2000, 3000, 5000, 8000, 10_000)
"""Where a state's level is printed."""


@dataclass(frozen=True, slots=True)
class NoCable:
    """The same pickup into the same input over no cable at all."""

    resonance_hz: float | None
    peak_db: float | None
    db_at: dict[str, float]


@dataclass(frozen=True, slots=True)
class ToneState:
    """Levels in dB re 100 Hz; None where the pickup or a capacitance is not recorded, or it is active."""

    pf: int | None
    into_ohm: float
    f0_hz: float | None
    resonance_hz: float | None
    peak_db: float | None
    db_at: dict[str, float] | None
    no_cable: NoCable | None


@dataclass(frozen=True, slots=True)
class NamedState:
    """``name`` is `all_bypassed`, `as_used` or a scene's; ``segments`` from the source on."""

    name: str
    is_scene: bool
    segments: tuple[Segment, ...]

    @property
    def first(self) -> Segment:
        return self.segments[0]


@dataclass(frozen=True, slots=True)
class Curve:
    """Levels in dB re 100 Hz beside the frequencies asked for, with the cable and without it."""

    state: str
    db: tuple[float, ...]
    no_cable_db: tuple[float, ...]


@lru_cache(maxsize=32)
def list_states(plan: BoardPlan) -> Mapping[str, tuple[NamedState, ...]]:
    """For each source's ref its states: all bypassed, as used, then the scenes in the plan's order."""
    index, pf = index_plan(plan), link_capacitances(plan)
    used = frozenset(fold(pedal.ref) for pedal in plan.pedals if pedal.on)
    states = [(ALL_BYPASSED, False, frozenset[str]()), (AS_USED, False, used)]
    states += [(scene.name, True, frozenset(fold(ref) for ref in scene.on)) for scene in plan.scenes]
    return {
        source.ref: tuple(
            NamedState(
                name, is_scene, list_segments(index, source, WalkRules(plan.rules.bypass_pf, pf, engaged))
            )
            for name, is_scene, engaged in states
        )
        for source in plan.sources
    }


def is_active(source: Source) -> bool:
    """An active instrument drives its lead from a low impedance: cable costs it no treble to speak of."""
    return source.output_ohm is not None


def drives(part: Source | Pedal) -> bool:
    """Whether cable and inputs behind it are kept from what is before it; a passive pedal keeps nothing."""
    return is_active(part) if isinstance(part, Source) else part.circuit != "passive"


def pickup_circuit(source: Source, segment: Segment) -> PickupCircuit | None:
    """The pickup with all that hangs on it; None where a value is not recorded, or nothing gets through."""
    pickup = source.pickup
    if is_active(source) or pickup is None or segment.into_ohm is None:
        return None
    if pickup.r is None or pickup.l is None or pickup.c is None:
        return None
    circuit = PickupCircuit(
        r_ohm=pickup.r,
        l_h=pickup.l,
        c_pf=pickup.c,
        input_ohm=segment.into_ohm,
        run_pf=segment.pf or 0,
        volume_ohm=source.volume_ohm,
        tone_ohm=source.tone_ohm,
        tone_nf=source.tone_nf,
    )
    return None if circuit.is_shorted else circuit


def driver_ohm(segment: Segment) -> float | None:
    """What drives the segment's cable: the driver's output in parallel with the next input."""
    output = segment.driver.output_ohm
    if output is None or segment.into_ohm is None:
        return None
    return parallel((output, segment.into_ohm))


def segment_corner(segment: Segment) -> float | None:
    """The -3 dB corner of a driven segment in Hz; None for a passive pickup or where a value is missing."""
    ohm = driver_ohm(segment)
    return None if ohm is None or segment.pf is None else corner_frequency(ohm, segment.pf)


def compute_state(source: Source, segment: Segment) -> ToneState | None:
    """None where the input at the end is not known."""
    into = segment.into_ohm
    if into is None:
        return None
    circuit = pickup_circuit(source, segment)
    bare = None if circuit is None else _no_cable(circuit)
    printed = into if isinstance(into, int) else round_ohm(into)
    if circuit is None or segment.pf is None:
        return ToneState(segment.pf, printed, None, None, None, None, bare)
    f0 = ideal_frequency(circuit)
    f0_hz = None if f0 is None else round_hz(f0)
    resonance, peak, levels = _levels(circuit)
    return ToneState(segment.pf, printed, f0_hz, resonance, peak, _by_frequency(levels), bare)


def compute_curves(plan: BoardPlan, source: Source, frequencies_hz: Sequence[float]) -> tuple[Curve, ...]:
    """The response of every state that can be computed, for drawing; the volume knob is full up."""
    curves = []
    for state in list_states(plan)[source.ref]:
        circuit = pickup_circuit(source, state.first)
        if circuit is not None and state.first.pf is not None:
            bare = frequency_response(circuit.without_cable(), frequencies_hz)
            curves.append(Curve(state.name, frequency_response(circuit, frequencies_hz), bare))
    return tuple(curves)


@lru_cache(maxsize=256)
def _levels(circuit: PickupCircuit) -> tuple[float | None, float | None, tuple[float, ...]]:
    levels = tuple(round_db(db) for db in frequency_response(circuit, LEVELS_HZ))
    resonance = find_resonance(circuit)
    if resonance is None:
        return None, None, levels
    return round_hz(resonance), round_db(frequency_response(circuit, (resonance,))[0]), levels


def _by_frequency(levels: Sequence[float]) -> dict[str, float]:
    return {str(hz): db for hz, db in zip(LEVELS_HZ, levels, strict=True)}


def _no_cable(circuit: PickupCircuit) -> NoCable:
    resonance, peak, levels = _levels(circuit.without_cable())
    return NoCable(resonance, peak, _by_frequency(levels))
