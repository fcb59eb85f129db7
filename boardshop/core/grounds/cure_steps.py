"""The cures for ground loops, in the order in which they are tried, as data: common practice throughout.

The cheap and harmless ones come first; after each the loops are counted anew, and one listens.
"""

from dataclasses import dataclass

from boardshop.core.grounds.graph import NEVER_LIFT
from boardshop.core.power.rules import COMMON


@dataclass(frozen=True, slots=True)
class CureStep:
    """``stays`` says why the count does not change; blank for a cure that opens joins."""

    number: int
    name: str
    how: str
    stays: str = ""
    basis: str = COMMON

    @property
    def opens_joins(self) -> bool:
        return not self.stays


CURE_STEPS: tuple[CureStep, ...] = (
    CureStep(
        1,
        "Shorten, tidy and loom",
        "Take up slack, tie the leads of a send and its return together over their whole way, and let audio "
        "cross mains leads at a right angle only.",
        "The count stays; the area of the loops shrinks, and with it the hum that they pick up.",
    ),
    CureStep(
        2,
        "Mend screens and jacks",
        "Measure every screen from end to end while the lead is moved, re-solder what is loose, and tighten "
        "the nuts of the jacks.",
        "The count stays; a screen that makes contact only now and then crackles and hums by itself.",
    ),
    CureStep(
        3,
        "An isolated outlet for each digital and each high-gain pedal",
        "Take the pedal off the shared return and give it an isolated outlet of its own.",
    ),
    CureStep(
        4,
        "One phase, one distribution",
        "Feed the amps and the board from one distribution that carries audio only; lights and motors hang "
        "on another. Mains work is the venue electrician's.",
        "The count stays; the earths then lie closer together in voltage, so that less current runs.",
    ),
    CureStep(
        5,
        "A transformer in an amp's lead",
        "Feed the second amp from a transformer-isolated output, or put an audio transformer into each of "
        "its leads, and keep the polarity: swapped, two amps cancel each other. Every amp keeps its earth.",
    ),
    CureStep(
        6,
        "A USB isolator",
        "Put a galvanic isolator, which passes the data and parts the grounds, into the USB lead.",
    ),
    CureStep(
        7,
        "MIDI by DIN",
        "Use five-pin DIN leads, which end in an opto-coupler and leave pin 2 open at the receiver, or an "
        "isolating MIDI box.",
    ),
    CureStep(
        8,
        "Pedals insulated from a metal frame",
        "Lay tape, hook-and-loop or a mat between bare housings and bare metal.",
        "The count stays, since where housings touch a metal frame or each other is not recorded; each "
        "contact may be a further loop.",
    ),
    CureStep(
        9,
        "The ground lift of a DI box",
        "Press the lift on the DI box, which opens pin 1 of its signal output and no mains earth. "
        "Never feed phantom power through a passive one whose maker does not allow it.",
    ),
    CureStep(
        10,
        "Listen with each thing taken out",
        "Unplug one lead or one unit at a time, listen, and put it back: what silences it is in the loop.",
        "The count stays until something is left out for good.",
    ),
)

STOP_AT = (
    "Count and listen after each cure, and stop at the fewest loops that are silent: that need not be none. "
    f"{NEVER_LIFT}"
)
