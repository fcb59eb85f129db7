"""What the treble of each instrument suffers on this board: one small check per rule."""

from collections.abc import Iterator, Sequence

from boardshop.core.cables.runs import cable_length
from boardshop.core.findings import Finding, sort_findings
from boardshop.core.index import PlanIndex, fold, index_plan
from boardshop.core.naming import called, say_all
from boardshop.core.plan import Amp, BoardPlan, Pedal, Source
from boardshop.core.printing import round_hz, round_ohm
from boardshop.core.tone.circuit import (
    PickupCircuit,
    corner_frequency,
    find_resonance,
    frequency_response,
    parallel,
)
from boardshop.core.tone.gaps import find_gaps
from boardshop.core.tone.ohms import say_ohm
from boardshop.core.tone.rules import (
    LOADING_OHM,
    LOWEST_CORNER_HZ,
    NORMAL_PF,
    SIMULATED_CABLE,
    STRONG_LOADING_OHM,
    TOO_BRIGHT_PF,
    TRANSMITTER_LEAD_MM,
    TRUE_BYPASS_IN_A_ROW,
    band_of,
    tone_finding,
)
from boardshop.core.tone.segments import Segment, Stage
from boardshop.core.tone.states import (
    NamedState,
    drives,
    is_active,
    list_states,
    pickup_circuit,
    segment_corner,
)

RECEIVER = "wireless-receiver"
UNKNOWN_LOAD = "a load that is not known"


def check_tone(plan: BoardPlan) -> tuple[Finding, ...]:
    """Findings of all sources; the totals are judged with every pedal bypassed, which is the worst state."""
    index = index_plan(plan)
    found: list[Finding] = []
    for source in plan.sources:
        states = list_states(plan)[source.ref]
        worst = states[0].first
        found += find_gaps(index, source, states)
        if not is_active(source):
            found += _check_total(index, source, worst)
            found += _check_row(index, source, worst)
            found += _check_late_buffer(index, source, worst)
        found += _check_transmitter(index, source, worst)
        for state in states:
            found += _check_state(index, source, state)
    return sort_findings(found)


def _check_state(index: PlanIndex, source: Source, state: NamedState) -> Iterator[Finding]:
    driver_of = {
        stage.ref: segment.driver
        for segment in state.segments
        for stage in segment.stages
        if isinstance(stage, Pedal)
    }
    if not is_active(source):
        yield from _check_loading(index, source, state.first)
    yield from _check_sharing(index, state.segments)
    for segment in state.segments:
        yield from _check_passive_driver(index, segment)
        yield from _check_corner(index, segment)
        if isinstance(segment.driver, Pedal):
            before = driver_of.get(segment.driver.ref)
            if before is not None and drives(before):
                yield from _check_volume_pot(index, segment, before)


def _check_total(index: PlanIndex, source: Source, worst: Segment) -> Iterator[Finding]:
    pf = worst.pf
    if pf is None or worst.into_ohm is None:
        return
    band = band_of(pf)
    if band.severity is None:
        return
    what = f"{pf} pF hang on {source.ref}, volume full up, as far as {_stages(index, worst)}. "
    what += _peaks(source, worst) + band.says
    yield tone_finding("T09", band.severity, (source.ref,), what, _brighter_cure(worst))


def _brighter_cure(worst: Segment) -> str:
    """Of a total that is too small; blank for the rule's own."""
    if worst.pf is None or worst.pf >= TOO_BRIGHT_PF:
        return ""
    if any(isinstance(stage, Pedal) and stage.kind == RECEIVER for stage in worst.stages):
        return SIMULATED_CABLE
    return "If it is too bright, use a longer lead or one of more capacitance."


def _peaks(source: Source, worst: Segment) -> str:
    """The peak as loaded and without cable; a level at one frequency would mislead."""
    circuit = pickup_circuit(source, worst)
    if circuit is None:
        return ""
    bare, loaded = _peak(circuit.without_cable()), _peak(circuit)
    if loaded is None:
        without = "with this cable or without any" if bare is None else f"left; without cable it has {bare}"
        return f"The pickup has no peak {without}. "
    return f"The pickup has {loaded}; without cable it has {bare or 'no peak'}. "


def _peak(circuit: PickupCircuit) -> str | None:
    """None where the level only falls, or rises by less than is printed."""
    resonance = find_resonance(circuit)
    if resonance is None:
        return None
    db = f"{frequency_response(circuit, (resonance,))[0]:.1f}"
    return None if float(db) <= 0 else f"a peak of {db} dB at {round_hz(resonance):.0f} Hz"


def _check_row(index: PlanIndex, source: Source, worst: Segment) -> Iterator[Finding]:
    if len(worst.passed) > TRUE_BYPASS_IN_A_ROW:
        names = ", ".join(called(index, pedal.ref) for pedal in worst.passed)
        what = f"{len(worst.passed)} true-bypass pedals follow {source.ref} with nothing that drives "
        what += f"among them ({names}): wiring and patches add up on the pickup."
        yield tone_finding("T02", "advice", (source.ref, *(pedal.ref for pedal in worst.passed)), what)


def _check_late_buffer(index: PlanIndex, source: Source, worst: Segment) -> Iterator[Finding]:
    first = worst.stages[0] if worst.stages else None
    if isinstance(first, Pedal) and worst.passed and worst.pf is not None and worst.pf > NORMAL_PF:
        what = f"{called(index, first.ref)} is the first to drive, but with every pedal bypassed "
        what += f"{worst.pf} pF come before it: "
        what += f"what {source.ref} loses there, no later buffer brings back."
        yield tone_finding("T07", "advice", (source.ref, first.ref), what)


def _check_loading(index: PlanIndex, source: Source, first: Segment) -> Iterator[Finding]:
    for stage in first.stages:
        ohm = stage.input_ohm
        if ohm is None or ohm >= LOADING_OHM or (isinstance(stage, Pedal) and stage.kind == "fuzz"):
            continue
        what = f"The input of {called(index, stage.ref)} is {say_ohm(ohm)} and loads {source.ref}: "
        what += "level and treble drop markedly." if ohm < STRONG_LOADING_OHM else "level and treble drop."
        yield tone_finding("T04", "caution", (source.ref, stage.ref), what)


def _check_passive_driver(index: PlanIndex, segment: Segment) -> Iterator[Finding]:
    driver = segment.driver
    if isinstance(driver, Pedal) and driver.circuit == "passive":
        what = f"{called(index, driver.ref)} is passive and drives nothing: the cables and inputs behind it "
        what += (
            "hang on what is before it as well, and the figures before it, which end here, leave them out."
        )
        cure = "Put a buffer right before it or right behind it."
        yield tone_finding("T03", "caution", (driver.ref,), what, cure)


def _check_corner(index: PlanIndex, segment: Segment) -> Iterator[Finding]:
    corner = segment_corner(segment)
    if corner is not None and corner < LOWEST_CORNER_HZ:
        what = f"{called(index, segment.driver.ref)} drives {segment.pf} pF up to {_stages(index, segment)} "
        what += f"from {say_ohm(segment.driver.output_ohm or 0)}: treble falls off above {corner:.0f} Hz."
        yield tone_finding("T05", "caution", _ends(segment), what)


def _check_sharing(index: PlanIndex, segments: Sequence[Segment]) -> Iterator[Finding]:
    """Inputs in parallel on what does not drive, on one output or several; a corner tells of drivers."""
    by_driver: dict[str, list[Segment]] = {}
    for segment in segments:
        if not drives(segment.driver):
            by_driver.setdefault(fold(segment.driver.ref), []).append(segment)
    for sharing in by_driver.values():
        stages = tuple(stage for segment in sharing for stage in segment.stages)
        if len(stages) > 1:
            driver = sharing[0].driver
            inputs = [stage.input_ohm for stage in stages]
            known = [ohm for ohm in inputs if ohm is not None]
            load = say_ohm(round_ohm(parallel(known))) if len(known) == len(inputs) else UNKNOWN_LOAD
            what = f"{say_all(_names(index, stages))} hang on {called(index, driver.ref)} side by side: "
            what += f"together they load it with {load}, and their cables add up."
            subjects = (driver.ref, *(stage.ref for stage in stages))
            yield tone_finding("T06", "caution", subjects, what)


def _check_volume_pot(index: PlanIndex, segment: Segment, before: Source | Pedal) -> Iterator[Finding]:
    """Half way up a pot's output looks like a quarter of its value."""
    volume = segment.driver
    if not isinstance(volume, Pedal) or volume.kind != "volume":
        return
    name, driver = called(index, volume.ref), called(index, before.ref)
    if volume.circuit is None:
        what = f"Whether {name}, behind {driver}, is passive or has a buffer of its own is not recorded, "
        what += "so whether it takes treble half way up cannot be told."
        yield tone_finding("T08", "unknown", (volume.ref,), what, "Take it from the data sheet.")
    if volume.circuit != "passive" or volume.input_ohm is None or segment.pf is None:
        return
    corner = corner_frequency(volume.input_ohm / 4, segment.pf)
    if corner is not None and corner < LOWEST_CORNER_HZ:
        what = f"{name} is a {say_ohm(volume.input_ohm)} pot behind "
        what += f"{driver}, which drives: half way up it and the {segment.pf} pF after it "
        what += f"take the treble above {corner:.0f} Hz."
        yield tone_finding("T08", "caution", _ends(segment), what)


def _check_transmitter(index: PlanIndex, source: Source, worst: Segment) -> Iterator[Finding]:
    for stage in worst.stages:
        if isinstance(stage, Pedal) and stage.kind == RECEIVER and len(worst.links) == 1:
            link = worst.links[0]
            length = cable_length(link, None)
            if length is not None and length > TRANSMITTER_LEAD_MM:
                what = f"{link.ref} between {source.ref} and {called(index, stage.ref)} is recorded as "
                what += (
                    f"{length} mm long, but over the air only the transmitter's own lead hangs on the pickup."
                )
                yield tone_finding("T12", "advice", (link.ref, stage.ref), what)


def _ends(segment: Segment) -> tuple[str, ...]:
    return (segment.driver.ref, *(stage.ref for stage in segment.stages))


def _stages(index: PlanIndex, segment: Segment) -> str:
    return say_all(_names(index, segment.stages))


def _names(index: PlanIndex, stages: Sequence[Stage]) -> list[str]:
    return [called(index, stage.ref) + (" (the amp)" if isinstance(stage, Amp) else "") for stage in stages]
