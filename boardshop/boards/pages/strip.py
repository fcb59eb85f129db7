"""The order as a strip of balloons, one for each way of the signal."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from django.utils.translation import gettext as _

from boardshop.boards.sheet import BoardSheet
from boardshop.core.index import fold
from boardshop.core.layout.rows import number_places
from boardshop.core.order import SignalPath, list_chains, signal_paths
from boardshop.core.plan import Pedal


@dataclass(frozen=True)
class Stop:
    """One pedal of a strip, as `pieces/order_strip.html` reads it."""

    ref: str
    number: int | str
    name: str
    kind: str
    url: str
    wrong: bool
    off: bool
    place: str
    """The place's number, blank where the pedal is not placed."""
    found: str = ""
    """The worst severity of what is found right in front of it; blank for nothing that presses."""
    selected: bool = False


@dataclass(frozen=True)
class Strip:
    """One way of the signal; `line` is its number among the plan's paths, by which services know it."""

    line: int
    way: str
    """`way 2`; blank, like the name, where there is only one."""
    name: str
    stops: tuple[Stop, ...]
    stop_refs: tuple[str, ...]
    """As the signal passes them: a switcher again each time it comes back from one of its loops."""


def list_strips(
    sheet: BoardSheet,
    url: Callable[[str], str],
    selected: str = "",
    found: Mapping[str, str] | None = None,
) -> list[Strip]:
    """The strips in the plan's order; their names only where there are several.

    `found` are the worst severities of what is found in front of a pedal, by folded ref.
    """
    chains, paths = list_chains(sheet.plan), signal_paths(sheet.plan)
    places = number_places(sheet.plan)
    return [
        Strip(
            line=paths.index(chain),
            way=_("way %(number)d") % {"number": number + 1} if len(chains) > 1 else "",
            name=_name(chain, number) if len(chains) > 1 else "",
            stops=tuple(_stop(sheet, pedal, url, selected, places, found or {}) for pedal in chain.pedals),
            stop_refs=chain.stops,
        )
        for number, chain in enumerate(chains)
    ]


def pedal_name(pedal: Pedal) -> str:
    return pedal.name or pedal.ref


def _name(chain: SignalPath, number: int) -> str:
    words = {
        "number": number + 1,
        "start": chain.start or _("an open input"),
        "end": chain.end or _("an open output"),
    }
    return _("Way %(number)d: %(start)s to %(end)s") % words


def _stop(
    sheet: BoardSheet,
    pedal: Pedal,
    url: Callable[[str], str],
    selected: str,
    places: Mapping[str, str],
    found: Mapping[str, str],
) -> Stop:
    return Stop(
        ref=pedal.ref,
        number=sheet.numbers.get(pedal.ref, pedal.ref),
        name=pedal_name(pedal),
        kind=pedal.kind,
        url=url(pedal.ref),
        wrong=pedal.ref in sheet.order.moved,
        off=False,
        place=places.get(pedal.ref, ""),
        found=found.get(fold(pedal.ref), ""),
        selected=pedal.ref == selected,
    )
