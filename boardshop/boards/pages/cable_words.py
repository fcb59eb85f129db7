"""Kinds of cables and ways to strip them in words, for pages and papers alike."""

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass, replace

from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from boardshop.core.cables.cut_list import ListedCable, ListedEnd
from boardshop.core.cables.strip import Strip
from boardshop.core.index import PlanIndex
from boardshop.core.naming import called

KIND_WORDS = {
    "instrument": gettext_lazy("instrument lead"),
    "patch": gettext_lazy("patch"),
    "send": gettext_lazy("send lead"),
    "return": gettext_lazy("return lead"),
    "amp": gettext_lazy("amp lead"),
    "midi": gettext_lazy("MIDI"),
    "control": gettext_lazy("control"),
    "usb": gettext_lazy("USB"),
    "piece": gettext_lazy("further piece"),
}
STRIP_WORDS = {
    "soldered": gettext_lazy("strip for soldering"),
    "own sheet": gettext_lazy("strip by the plug maker's sheet"),
    "solderless": gettext_lazy("cut square, by the plug maker's sheet; never an end that was pierced before"),
    "moulded": gettext_lazy("moulded, cannot be fitted"),
    "unknown": gettext_lazy("fixing not recorded, so no strip length"),
    "no plug": gettext_lazy("no plug chosen"),
}
STATE_WORDS = {
    "cut": gettext_lazy("to cut"),
    "made": gettext_lazy("made already"),
    "lead": gettext_lazy("a lead of this length"),
}
DC_WORDS = {
    "recorded": gettext_lazy("recorded on its feed"),
    "at hand": gettext_lazy("at hand"),
    "to get": gettext_lazy("to get"),
    "captive": gettext_lazy("fixed to its outlet"),
}


@dataclass(frozen=True)
class PlugLine:
    """A plug and how to strip for it; `times` 2 where both ends are alike."""

    plug: str
    strip: str
    times: int = 1


def join_alike(plugs: Sequence[PlugLine]) -> tuple[PlugLine, ...]:
    """Both ends as one line where they are alike."""
    return tuple(replace(plug, times=n) for plug, n in Counter(plugs).items())


def strip_words(strip: Strip) -> str:
    return str(STRIP_WORDS[strip.way])


def plugs_of(index: PlanIndex, cable: ListedCable) -> tuple[PlugLine, ...]:
    """The plugs of a listed cable."""
    return join_alike([_plug_line(index, cable, end) for end in cable.ends])


def say_kind(cable: ListedCable) -> str:
    """`patch, stereo`; channels that are not recorded are said."""
    words = str(KIND_WORDS[cable.kind])
    if cable.kind in ("midi", "control", "usb") or cable.channels == "mono":
        return words
    return f"{words}, {cable.channels or _('mono or stereo not recorded')}"


def _plug_line(index: PlanIndex, cable: ListedCable, end: ListedEnd) -> PlugLine:
    """What is not cut needs no strip length."""
    name = called(index, end.plug) if end.plug else _("no plug chosen")
    is_cut = cable.comes == "cut" and end.plug is not None
    return PlugLine(name, strip_words(end.strip) if is_cut else "")
