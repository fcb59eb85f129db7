"""The cut list of a board: every cable by its kind, with plugs, strip lengths and labels at both ends.

Leads off the board and DC leads stand in it too, since all of them are packed and labelled.
"""

from collections.abc import Iterable
from dataclasses import dataclass

from boardshop.core.cables.ends import find_ends
from boardshop.core.cables.runs import MeasuredRun, cable_length, measure_runs
from boardshop.core.cables.strip import Strip, strip_for
from boardshop.core.index import PlanIndex, fold, index_plan, split_end
from boardshop.core.plan import Amp, BoardPlan, DcLead, Link, PlugType, Source
from boardshop.core.power.leads import FeedLead, assign_leads

CABLE_KINDS = ("instrument", "patch", "send", "return", "amp", "midi", "control", "usb")
"""In the order of a list; `send` and `return` are the leads to and from an amp's loop."""

LEAD_KINDS = ("instrument", "send", "return", "amp")
"""Those that leave the board."""


@dataclass(frozen=True, slots=True)
class ListedEnd:
    """One end: its jack as `P4.IN`, the ref of its plug type, and what is written on its label."""

    jack: str
    plug: str | None
    strip: Strip
    label: str


@dataclass(frozen=True, slots=True)
class ListedCable:
    """One link; ``comes`` says whether it is `cut`, was `made` already, or is a `lead` of given length.

    ``channels`` is None where a signal's jacks do not say, and for what is no signal.
    ``lacks`` are kinds of `lacks.LACKS` for which its length is not known.
    """

    ref: str
    kind: str
    channels: str | None
    cable: str | None
    ends: tuple[ListedEnd, ListedEnd]
    length_mm: int | None
    comes: str
    blocked_by: tuple[str, ...] = ()
    lacks: tuple[str, ...] = ()
    is_to_edge: bool = False
    """A lead of which only the part on the frame is measured."""

    @property
    def has_moulded_plug(self) -> bool:
        return any(end.strip.way == "moulded" for end in self.ends)


@dataclass(frozen=True, slots=True)
class ListedDcLead:
    """One feed; ``comes`` is `recorded`, `at hand`, `to get` or `captive`.

    ``needed_mm`` is None where it is not known.
    """

    outlets: tuple[str, ...]
    jacks: tuple[str, ...]
    label: str
    needed_mm: int | None
    comes: str
    lead: DcLead | None
    adapters: tuple[str, ...]
    is_too_short: bool = False


def list_cables(plan: BoardPlan) -> tuple[ListedCable, ...]:
    """Every link, kind by kind, each kind in the plan's order."""
    index = index_plan(plan)
    runs = {fold(run.link.ref): run for run in measure_runs(plan)}
    listed = (_listed(plan, index, link, runs.get(fold(link.ref))) for link in plan.links)
    return tuple(sorted(listed, key=lambda one: CABLE_KINDS.index(one.kind)))


def list_dc_leads(plan: BoardPlan) -> tuple[ListedDcLead, ...]:
    """Every feed, in the plan's order."""
    return tuple(_dc_lead(one) for one in assign_leads(plan).feeds)


def cable_kind(index: PlanIndex, link: Link) -> str:
    """Which of CABLE_KINDS a link is."""
    if link.carries != "signal":
        return link.carries
    source = index.signal_parts[fold(split_end(link.source)[0])]
    target = index.signal_parts[fold(split_end(link.target)[0])]
    if isinstance(source, Source):
        return "instrument"
    if isinstance(source, Amp):
        return "send"
    if isinstance(target, Amp):
        jack = index.jacks.get(fold(link.target))
        return "return" if jack is not None and jack.role == "return" else "amp"
    return "patch"


def channels_of(index: PlanIndex, link: Link) -> str | None:
    """`mono` where one end is, `stereo` where both are; None where that is not recorded.

    A jack of which nothing is recorded beside its two-pole connector is mono.
    """
    if link.carries != "signal":
        return None
    found = [_channels_at(index, end) for end in (link.source, link.target)]
    if "mono" in found:
        return "mono"
    known = [one for one in found if one is not None]
    return "stereo" if len(known) == len(found) else None


def label_of(link: Link, jack: str) -> str:
    """`W3 > P4-IN`: the cable's ref, the same at both ends, and where this end belongs."""
    return f"{link.ref} > {_dashed(jack)}"


def _dashed(jack: str) -> str:
    return "-".join(split_end(jack))


def _channels_at(index: PlanIndex, end: str) -> str | None:
    jack = index.jacks.get(fold(end))
    channels = getattr(jack, "channels", None)
    if channels is None and getattr(jack, "connector", None) in ("6.35 TS", "3.5 mono"):
        return "mono"
    part = index.signal_parts[fold(split_end(end)[0])]
    return "mono" if isinstance(part, Source | Amp) and channels is None else channels


def _listed(plan: BoardPlan, index: PlanIndex, link: Link, run: MeasuredRun | None) -> ListedCable:
    missing = run.missing if run is not None and link.made is None else ()
    return ListedCable(
        ref=link.ref,
        kind=cable_kind(index, link),
        channels=channels_of(index, link),
        cable=link.cable,
        ends=_ends(plan, index, link),
        length_mm=cable_length(link, run.cut_mm if run is not None else None),
        comes="lead" if link.length is not None else "cut" if link.made is None else "made",
        blocked_by=run.blocked_by if run is not None and link.made is None else (),
        lacks=_kinds(lack.kind for lack in missing if lack.kind != "lead"),
        is_to_edge=any(lack.kind == "lead" for lack in missing),
    )


def _kinds(kinds: Iterable[str]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(kinds))


def _ends(plan: BoardPlan, index: PlanIndex, link: Link) -> tuple[ListedEnd, ListedEnd]:
    one, other = find_ends(plan, index, link)
    return _end(link, one.jack, one.plug), _end(link, other.jack, other.plug)


def _end(link: Link, jack: str, plug: PlugType | None) -> ListedEnd:
    return ListedEnd(jack, plug.ref if plug else None, strip_for(plug), label_of(link, jack))


def _dc_lead(one: FeedLead) -> ListedDcLead:
    outlets, jacks = one.feed.outlets, one.feed.jacks
    if one.is_captive:
        comes = "captive"
    elif one.recorded is not None:
        comes = "recorded"
    else:
        comes = "at hand" if one.chosen is not None else "to get"
    return ListedDcLead(
        outlets=outlets,
        jacks=jacks,
        label=f"{' + '.join(map(_dashed, outlets))} > {', '.join(map(_dashed, jacks))}",
        needed_mm=one.need.mm,
        comes=comes,
        lead=one.recorded or (one.chosen.lead if one.chosen is not None else None),
        adapters=one.feed.adapters,
        is_too_short=one.is_too_short,
    )
