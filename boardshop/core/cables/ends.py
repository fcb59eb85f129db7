"""Where the two ends of a run lie on the frame, and what is not recorded when nobody can tell."""

from dataclasses import dataclass

from boardshop.core.cables.rules import cable_finding
from boardshop.core.findings import Finding
from boardshop.core.index import PlanIndex, fold, split_end
from boardshop.core.layout.geometry import plug_end
from boardshop.core.naming import called
from boardshop.core.plan import Amp, BoardPlan, Frame, Jack, Link, Pedal, PlugType, Point, Source


@dataclass(frozen=True, slots=True)
class LinkEnd:
    """One end of a link: its jack `REF.NAME`, the plug that goes there, and where the run starts or stops."""

    jack: str
    plug: PlugType | None
    spot: Point | None
    missing: tuple[Finding, ...] = ()


def find_ends(plan: BoardPlan, index: PlanIndex, link: Link) -> tuple[LinkEnd, LinkEnd]:
    """Both ends in signal direction.

    An instrument's end lies where the lead arrives (`frame.in`), an amp's where it leaves (`frame.out`).
    """
    return (
        _find_end(plan.frame, index, link, link.source, link.plug_from),
        _find_end(plan.frame, index, link, link.target, link.plug_to),
    )


def entry_point(frame: Frame) -> Point:
    """Where the instrument's lead arrives: the rear right corner unless told otherwise."""
    return frame.entry or Point(frame.width, frame.depth)


def exit_point(frame: Frame) -> Point:
    """Where the amp's lead leaves: the rear left corner unless told otherwise."""
    return frame.exit or Point(0, frame.depth)


def _find_end(frame: Frame, index: PlanIndex, link: Link, jack: str, plug_ref: str | None) -> LinkEnd:
    plug = index.plugs.get(fold(plug_ref)) if plug_ref else None
    match index.signal_parts[fold(split_end(jack)[0])]:
        case Pedal() as pedal:
            return _pedal_end(index, link, pedal, jack, plug)
        case Source():
            return LinkEnd(jack, plug, entry_point(frame))
        case Amp():
            return LinkEnd(jack, plug, exit_point(frame))
        case computer:
            return LinkEnd(jack, plug, None, (_far_end_unknown(link, computer.ref),))


def _pedal_end(index: PlanIndex, link: Link, pedal: Pedal, jack_name: str, plug: PlugType | None) -> LinkEnd:
    jack = index.jacks[fold(jack_name)]
    assert isinstance(jack, Jack)
    spot = plug_end(pedal, jack, plug) if plug is not None else None
    if spot is not None:
        return LinkEnd(jack_name, plug, spot)
    missing: list[Finding] = []
    if pedal.place is None:
        what = f"{called(index, pedal.ref)} has no place on the frame, so the runs to it cannot be measured."
        missing.append(cable_finding("C01", (pedal.ref,), what, "Place the pedal."))
    if jack.side is None or jack.offset is None:
        what = f"On which side and how far along {called(index, jack_name)} sits is not recorded, "
        what += "so the run to it cannot be measured."
        missing.append(cable_finding("C01", (jack_name,), what, "Measure the jack's offset along its side."))
    missing += _plug_unknown(link, jack_name, plug)
    return LinkEnd(jack_name, plug, None, tuple(missing))


def _plug_unknown(link: Link, jack_name: str, plug: PlugType | None) -> list[Finding]:
    if plug is None:
        what = f"No plug type is chosen for {link.ref} at {jack_name}, so where its run begins is not known."
        return [cable_finding("C01", (link.ref, jack_name), what, "Choose the plug type.")]
    if plug.reach is None:
        what = (
            f"How far plug {plug.ref} stands out from a jack is not recorded, so its runs cannot be measured."
        )
        return [cable_finding("C01", (plug.ref,), what, "Measure the plug's reach from the jack's face.")]
    return []


def _far_end_unknown(link: Link, ref: str) -> Finding:
    what = f"{link.ref} leads to {ref}, which has no place on the frame, and its length is not recorded."
    return cable_finding("C01", (link.ref,), what, "Record the cable's length.")
