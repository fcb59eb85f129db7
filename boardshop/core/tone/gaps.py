"""What the figures of tone need and nobody recorded: each named once."""

from collections.abc import Iterator, Sequence

from boardshop.core.findings import Finding
from boardshop.core.index import PlanIndex
from boardshop.core.naming import called, say_all
from boardshop.core.plan import Amp, Pedal, Source
from boardshop.core.tone.rules import tone_finding
from boardshop.core.tone.segments import Segment
from boardshop.core.tone.states import AS_USED, NamedState, is_active


def find_gaps(index: PlanIndex, source: Source, states: Sequence[NamedState]) -> Iterator[Finding]:
    """Unknown values of one source's states; equal findings of several states are one."""
    yield from _pickup_unknown(source)
    yield from _ends_nowhere(index, source, states[0].first)
    for state in states:
        for segment in state.segments:
            yield from _bypass_unknown(index, segment)
            yield from _input_unknown(index, segment)
            yield from _capacitance_unknown(segment)
            yield from _output_unknown(index, segment)
        if state.name == AS_USED and not state.is_scene:
            yield from _use_unknown(index, source, state.first)


def _pickup_unknown(source: Source) -> Iterator[Finding]:
    if is_active(source):
        return
    pickup = source.pickup
    lacking = ["resistance", "inductance", "capacitance"]
    if pickup is not None:
        values = (pickup.r, pickup.l, pickup.c)
        lacking = [name for name, value in zip(lacking, values, strict=True) if value is None]
    if lacking:
        what = f"The {say_all(lacking)} of {source.ref}'s pickup "
        what += "is not recorded, " if len(lacking) == 1 else "are not recorded, "
        what += "so what cable does to its treble cannot be computed."
        cure = "Measure it, take the maker's figures, or record the output impedance of an active instrument."
        yield tone_finding("T01", "unknown", (source.ref,), what, cure)
    if (source.tone_ohm is None) != (source.tone_nf is None):
        lacks = "pot" if source.tone_ohm is None else "capacitor"
        what = (
            f"The tone {lacks} of {source.ref} is not recorded, so its tone control is left out of account."
        )
        yield tone_finding("T01", "unknown", (source.ref,), what)


def _ends_nowhere(index: PlanIndex, source: Source, first: Segment) -> Iterator[Finding]:
    if first.stages or first.undecided:
        return
    at = first.open_ends[0] if first.open_ends else first.passed[-1].ref
    what = f"The signal of {source.ref} ends at {called(index, at)} without an input that loads it, "
    what += "so its treble cannot be computed."
    subjects = tuple(dict.fromkeys((source.ref, at.partition(".")[0])))
    yield tone_finding("T01", "unknown", subjects, what, "Link it on to a pedal or an amp.")


def _bypass_unknown(index: PlanIndex, segment: Segment) -> Iterator[Finding]:
    for pedal in segment.undecided:
        what = f"Whether {called(index, pedal.ref)} is true-bypass or buffered is not recorded. Bypassed, a "
        what += (
            "true-bypass pedal passes the load on to the next input and a buffered one ends it, so how much "
        )
        what += "hangs on what is before it is not known."
        cure = "Take it from the data sheet, or listen whether it passes signal with its power off."
        yield tone_finding("T03", "unknown", (pedal.ref,), what, cure)


def _input_unknown(index: PlanIndex, segment: Segment) -> Iterator[Finding]:
    for stage in segment.stages:
        if stage.input_ohm is None:
            what = f"The input impedance of {called(index, stage.ref)} is not recorded, "
            what += "so how it loads what is before it cannot be told."
            yield tone_finding(
                "T04", "unknown", (stage.ref,), what, "Take it from the data sheet or measure it."
            )
        if isinstance(stage, Amp) and stage.input_pf is None:
            what = f"The input capacitance of {stage.ref} is not recorded and counts as nothing: "
            what += "the total before it is a little higher than printed."
            yield tone_finding("T01", "unknown", (stage.ref,), what, "Measure it, or record 0 to let it be.")


def _capacitance_unknown(segment: Segment) -> Iterator[Finding]:
    # Without the driver's name, which differs from state to state: one missing value is one finding.
    for link in segment.unknown_links:
        what = f"The capacitance of {link} is not known, so the total it belongs to cannot be added up."
        cure = "See among the cables whether its length or its capacitance per metre is missing."
        yield tone_finding("T01", "unknown", (link,), what, cure)


def _output_unknown(index: PlanIndex, segment: Segment) -> Iterator[Finding]:
    driver = segment.driver
    if isinstance(driver, Pedal) and driver.output_ohm is None:
        what = f"The output impedance of {called(index, driver.ref)} is not recorded, "
        what += "so how much cable it can drive is not known."
        yield tone_finding(
            "T05", "unknown", (driver.ref,), what, "Take it from the data sheet or measure it."
        )


def _use_unknown(index: PlanIndex, source: Source, first: Segment) -> Iterator[Finding]:
    unsaid = [pedal for pedal in first.passed if pedal.on is None]
    if unsaid:
        names = ", ".join(called(index, pedal.ref) for pedal in unsaid)
        be, them = ("is", "it") if len(unsaid) == 1 else ("are", "them")
        what = (
            f"Whether {names} {be} normally engaged is not recorded: what hangs on {source.ref} as the board "
        )
        what += f"is used is computed with {them} bypassed."
        subjects = tuple(pedal.ref for pedal in unsaid)
        yield tone_finding("T03", "unknown", subjects, what, "Ask the player, and record on or off.")
