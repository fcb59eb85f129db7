"""Each state of a board held against no cable at all and against a reference of 500 pF, figures and curves.

Differences are those of the levels at the cable themselves; curves and their values are in dB re the level at
100 Hz of the same circuit, as the report prints them.  At 100 Hz cable changes a few hundredths of a dB.
Basis: calculation; the reference stands for an ordinary lead (common practice).
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from math import log10

from boardshop.core.plan import BoardPlan, Source
from boardshop.core.printing import round_db
from boardshop.core.tone.circuit import HIGHEST_HZ, LOWEST_HZ, PickupCircuit, frequency_response
from boardshop.core.tone.segments import Segment
from boardshop.core.tone.states import NamedState, list_states, pickup_circuit

REFERENCE_PF = 500
COMPARED_HZ = (3000, 5000)
TABLE_HZ = (100, 200, 500, 1000, 2000, 3000, 4000, 5000, 6000, 8000, 10_000, 15_000, 20_000)
"""Where the values of a curve are printed."""
DRAWN_POINTS = 301
OF_STATES, NO_CABLE, REFERENCE = "state", "no cable", "reference"
NOW, THEN = "now", "then"


@dataclass(frozen=True, slots=True)
class Against:
    """A level at one frequency less that without cable, and less that with the reference, dB."""

    hz: int
    no_cable_db: float
    reference_db: float


@dataclass(frozen=True, slots=True)
class DrawnCurve:
    """One curve for drawing: ``kind`` is state, no cable or reference; now or then of a change.

    ``states`` are the names of the states that it is the curve of, by their place in `list_states`: states
    that load the instrument alike are one curve.  ``db`` stands beside the plot's ``drawn_hz``, ``values``
    beside `TABLE_HZ`, rounded as they are printed.
    """

    kind: str
    states: tuple[NamedState, ...]
    pf: int
    into_ohm: float
    db: tuple[float, ...]
    values: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class ResponsePlot:
    drawn_hz: tuple[float, ...]
    curves: tuple[DrawnCurve, ...]


def reference_circuit(circuit: PickupCircuit) -> PickupCircuit:
    """The same pickup into the same input over 500 pF."""
    return replace(circuit, run_pf=REFERENCE_PF)


def compare_levels(source: Source, segment: Segment) -> tuple[Against, ...] | None:
    """At 3 and 5 kHz; None where the response cannot be computed."""
    circuit = pickup_circuit(source, segment)
    if circuit is None or segment.pf is None:
        return None
    bare, reference = circuit.without_cable(), reference_circuit(circuit)
    own, without, usual = (frequency_response(one, COMPARED_HZ, None) for one in (circuit, bare, reference))
    return tuple(
        Against(hz, round_db(own[at] - without[at]), round_db(own[at] - usual[at]))
        for at, hz in enumerate(COMPARED_HZ)
    )


def plot_responses(plan: BoardPlan, source: Source) -> ResponsePlot:
    """The curves of every state that can be computed, each once, then no cable and the reference.

    Those two are drawn into the input that the first state which can be computed ends in.
    """
    drawn_hz = log_frequencies(DRAWN_POINTS)
    alike: dict[PickupCircuit, list[NamedState]] = {}
    for state in list_states(plan)[source.ref]:
        circuit = pickup_circuit(source, state.first)
        if circuit is not None and state.first.pf is not None:
            alike.setdefault(circuit, []).append(state)
    curves = [_draw(OF_STATES, circuit, drawn_hz, states) for circuit, states in alike.items()]
    for circuit in list(alike)[:1]:
        curves.append(_draw(NO_CABLE, circuit.without_cable(), drawn_hz))
        curves.append(_draw(REFERENCE, reference_circuit(circuit), drawn_hz))
    return ResponsePlot(drawn_hz, tuple(curves))


def plot_change(plan: BoardPlan, then: BoardPlan, source: Source) -> ResponsePlot:
    """All bypassed on two plans, the one as it is and the one tried; a curve that is lacking is left out."""
    drawn_hz = log_frequencies(DRAWN_POINTS)
    curves = []
    for kind, one in ((NOW, plan), (THEN, then)):
        state = list_states(one)[source.ref][0]
        circuit = pickup_circuit(source, state.first)
        if circuit is not None and state.first.pf is not None:
            curves.append(_draw(kind, circuit, drawn_hz, [state]))
    return ResponsePlot(drawn_hz, tuple(curves))


def log_frequencies(count: int) -> tuple[float, ...]:
    """So many frequencies from 100 Hz to 20 kHz, each the same factor above the one before."""
    step = log10(HIGHEST_HZ / LOWEST_HZ) / (count - 1)
    return (*(LOWEST_HZ * 10 ** (step * at) for at in range(count - 1)), HIGHEST_HZ)


def _draw(
    kind: str, circuit: PickupCircuit, drawn_hz: Sequence[float], states: Sequence[NamedState] = ()
) -> DrawnCurve:
    return DrawnCurve(
        kind=kind,
        states=tuple(states),
        pf=int(circuit.run_pf),
        into_ohm=circuit.input_ohm or 0,
        db=frequency_response(circuit, drawn_hz),
        values=_printed(circuit, TABLE_HZ),
    )


def _printed(circuit: PickupCircuit, frequencies_hz: Sequence[float]) -> tuple[float, ...]:
    return tuple(round_db(db) for db in frequency_response(circuit, frequencies_hz))
