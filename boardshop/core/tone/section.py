"""The tone section of the report: segments, states and findings of every instrument."""

from dataclasses import dataclass

from boardshop.core.findings import Finding
from boardshop.core.plan import BoardPlan, Source
from boardshop.core.printing import round_hz, round_ohm
from boardshop.core.tone.checks import check_tone
from boardshop.core.tone.segments import Segment
from boardshop.core.tone.states import NamedState, ToneState, compute_state, list_states, segment_corner


@dataclass(frozen=True, slots=True)
class ToneSegment:
    """``corner_hz`` is None for a passive pickup, whose response is no first-order one."""

    links: tuple[str, ...]
    pf: int | None
    driven_by: str
    into_ohm: float | None
    corner_hz: float | None


@dataclass(frozen=True, slots=True)
class SourceTone:
    source: str
    segments: tuple[ToneSegment, ...]
    all_bypassed: ToneState | None
    as_used: ToneState | None
    scenes: dict[str, ToneState | None]


@dataclass(frozen=True, slots=True)
class ToneSection:
    sources: tuple[SourceTone, ...]
    findings: tuple[Finding, ...]


def compute_tone(plan: BoardPlan) -> ToneSection:
    states = list_states(plan)
    return ToneSection(
        sources=tuple(_source_tone(source, states[source.ref]) for source in plan.sources),
        findings=check_tone(plan),
    )


def _source_tone(source: Source, states: tuple[NamedState, ...]) -> SourceTone:
    all_bypassed, as_used, *scenes = states
    return SourceTone(
        source=source.ref,
        segments=tuple(_print_segment(segment) for segment in all_bypassed.segments if segment.links),
        all_bypassed=compute_state(source, all_bypassed.first),
        as_used=compute_state(source, as_used.first),
        scenes={scene.name: compute_state(source, scene.first) for scene in scenes},
    )


def _print_segment(segment: Segment) -> ToneSegment:
    into, corner = segment.into_ohm, segment_corner(segment)
    return ToneSegment(
        links=tuple(link.ref for link in segment.links),
        pf=segment.pf,
        driven_by=segment.driver.ref,
        into_ohm=into if into is None or isinstance(into, int) else round_ohm(into),
        corner_hz=None if corner is None else round_hz(corner),
    )
