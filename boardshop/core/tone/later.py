"""What hangs on each stage that drives: cable behind the first one, which the instrument no longer meets.

First-order: the driver's output in parallel with the next input, and the capacitance between them.
Basis: calculation.
"""

from dataclasses import dataclass
from math import log10

from boardshop.core.plan import Pedal, Source
from boardshop.core.printing import round_db, round_hz, round_ohm
from boardshop.core.tone.rules import LOWEST_CORNER_HZ
from boardshop.core.tone.segments import Addition, Segment, Stage
from boardshop.core.tone.states import NamedState, driver_ohm, drives, segment_corner


@dataclass(frozen=True, slots=True)
class LaterStage:
    """One driven segment; what is not recorded is None, and ``corner_hz`` with it.

    ``corner_hz`` is where the level is 3 dB down, None also where nothing hangs on the driver; ``lacks``
    says in words what is not recorded.  ``drives`` is False for a passive pedal, behind which the figure
    leaves out what is before it.
    """

    driver: Source | Pedal
    stages: tuple[Stage, ...]
    undecided: tuple[Pedal, ...]
    """Pedals of which nobody knows whether they pass or load, so that it may drive others as well."""
    additions: tuple[Addition, ...]
    pf: int | None
    into_ohm: float | None
    output_ohm: int | None
    from_ohm: float | None
    corner_hz: float | None
    db_at_10_khz: float | None
    drives: bool
    lacks: tuple[str, ...]

    @property
    def is_low(self) -> bool:
        return self.corner_hz is not None and self.corner_hz < LOWEST_CORNER_HZ


def list_later_stages(state: NamedState) -> tuple[LaterStage, ...]:
    """In the order the signal meets them, an active instrument's own lead first."""
    return tuple(
        _tell_stage(segment)
        for segment in state.segments
        if segment.links and (isinstance(segment.driver, Pedal) or drives(segment.driver))
    )


def first_order_db(hz: float, corner_hz: float) -> float:
    """The level of a first-order low-pass at a frequency, dB re its level far below the corner."""
    return -10 * log10(1 + (hz / corner_hz) ** 2)


def _tell_stage(segment: Segment) -> LaterStage:
    ohm, corner, into = driver_ohm(segment), segment_corner(segment), segment.into_ohm
    return LaterStage(
        driver=segment.driver,
        stages=segment.stages,
        undecided=segment.undecided,
        additions=segment.additions,
        pf=segment.pf,
        into_ohm=into if into is None else round_ohm(into),
        output_ohm=segment.driver.output_ohm,
        from_ohm=None if ohm is None else round_ohm(ohm),
        corner_hz=None if corner is None else round_hz(corner),
        db_at_10_khz=None if corner is None else round_db(first_order_db(10_000, corner)),
        drives=drives(segment.driver),
        lacks=tuple(_list_lacks(segment)),
    )


def _list_lacks(segment: Segment) -> list[str]:
    lacks = []
    if segment.driver.output_ohm is None:
        lacks.append(f"the output impedance of {segment.driver.ref}")
    if segment.undecided:
        lacks.append(f"the bypass of {', '.join(pedal.ref for pedal in segment.undecided)}")
    lacks += [f"the input impedance of {stage.ref}" for stage in segment.stages if stage.input_ohm is None]
    if not segment.stages and not segment.undecided:
        lacks.append("an input at the end")
    if segment.unknown_links:
        lacks.append(f"the capacitance of {', '.join(segment.unknown_links)}")
    return lacks
