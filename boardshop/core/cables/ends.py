"""Where the two ends of a run lie on the frame, and what is not recorded when nobody can tell."""

from dataclasses import dataclass

from boardshop.core.cables.lacks import Lack
from boardshop.core.index import PlanIndex, fold, split_end
from boardshop.core.layout.geometry import plug_end
from boardshop.core.plan import Amp, BoardPlan, Frame, Jack, Link, Pedal, PlugType, Point, Source


@dataclass(frozen=True, slots=True)
class LinkEnd:
    """One end of a link: its jack `REF.NAME`, the plug that goes there, and where the run starts or stops."""

    jack: str
    plug: PlugType | None
    spot: Point | None
    missing: tuple[Lack, ...] = ()


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
        case _:
            return LinkEnd(jack, plug, None, (Lack("far end", link.ref),))


def _pedal_end(index: PlanIndex, link: Link, pedal: Pedal, jack_name: str, plug: PlugType | None) -> LinkEnd:
    jack = index.jacks[fold(jack_name)]
    assert isinstance(jack, Jack)
    missing = [] if plug is not None else [Lack("plug", f"{link.ref} at {jack_name}")]
    if pedal.place is None:
        missing.append(Lack("place", pedal.ref))
    if jack.side is None or jack.offset is None:
        missing.append(Lack("jack", jack_name))
    if plug is not None and plug.reach is None:
        missing.append(Lack("reach", plug.ref))
    spot = None if plug is None else plug_end(pedal, jack, plug)
    return LinkEnd(jack_name, plug, spot, tuple(missing))
