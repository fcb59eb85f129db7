"""Why a kind of pedal usually stands where it does, in the words of the trade: what the ranks rest on.

Each slot either stands early, with a reason that holds against all behind it, or late, with one that holds
against all in front of it.  In every school no early slot ranks behind a late one, so that for any two slots
of different rank one of the two reasons fits.  All are common practice.
"""

from dataclasses import dataclass

from boardshop.core.order.ranks import MODULATIONS


@dataclass(frozen=True, slots=True)
class Usual:
    """``why`` is a clause of its own: "the common order has A in front of B: <why>"."""

    is_late: bool
    why: str


def _early(why: str) -> Usual:
    return Usual(False, why)


def _late(why: str) -> Usual:
    return Usual(True, why)


MODULATION = _late("modulation moves the finished tone, the drive and the eq included")

USUAL: dict[str, Usual] = {
    "wireless-receiver": _early("the receiver stands in for the instrument lead"),
    "buffer": _early("a buffer at the front drives all the cable behind it"),
    "tuner": _early("a tuner reads the plain string best, and its mute then silences all behind it"),
    "input volume": _early("here the treadle takes the place of the instrument's own volume knob"),
    "noise-gate": _early("an early gate takes the pickup's hum before anything makes it louder"),
    "synth": _early("a synth follows one clean note, and loses it behind other effects"),
    "vintage fuzz": _early("this fuzz wants the pickup itself in front of it"),
    "fuzz": _early("a fuzz near the pickup follows the instrument's volume knob and the touch"),
    "bit-crusher": _early("the crushed sound is a rough source, like a fuzz, which all behind it shapes"),
    "wah": _early("a wah sweeps most evenly before the sound is levelled and driven"),
    "envelope-filter": _early("an envelope filter follows the picking, which levelling and gain take away"),
    "compressor": _early(
        "an early compressor holds the touch without lifting the noise of what is behind it"
    ),
    "pitch-shifter": _early("a pitch tracker wants one clean note, before gain and effects blur it"),
    "harmoniser": _early("a harmoniser finds the note best before gain and effects blur it"),
    "ring-modulator": _early(
        "a ring modulator answers to the plain note, before gain fills it with harmonics"
    ),
    "boost": _late("this boost pushes the gain behind it, with the tone that is made in front"),
    "overdrive": _late("a drive gains up the tone that is made in front of it"),
    "distortion": _late("the highest gain comes last, pushed by the lower ones"),
    "preamp": _late("a preamp stands where an amp's front end would, behind all the pedals that drive it"),
    "eq": _late("behind the gain an eq shapes the tone, in front of it the amount of gain"),
    "volume": _late("behind gain and tone the treadle sets the level and nothing else"),
    **dict.fromkeys(MODULATIONS, MODULATION),
    "delay": _late("a delay repeats the finished tone, so that each repeat stays as it was played"),
    "reverb": _late("the reverb is the room, and all that sounds stands in it"),
    "tremolo": _late("a tremolo this late makes the whole sound pulse, tails and all"),
    "output boost": _late("for a solo this boost lifts the finished sound"),
    "looper": _late("a looper records what is in front of it, and plays it back unchanged"),
    "output buffer": _late("this buffer drives the long run to the amp"),
    "master volume": _late("the master treadle sets the level of everything"),
    "cab-simulator": _late("a speaker's tone comes behind everything that a speaker would be fed"),
    "di": _late("a di leads on to the mixing desk, so nothing comes behind it"),
}
"""The common school's reasons, by slot; every slot that has a rank."""

DYNAMICS_FIRST: dict[str, Usual] = {
    "noise-gate": _late("behind the gain a gate also cuts the hiss that the gain makes"),
    "fuzz": _late("this school shapes vowel, pitch and touch before any gain, a fuzz's included"),
    "bit-crusher": _late("this school uses the crushed sound as a texture on the finished tone"),
    "harmoniser": _late("this school adds the harmonies to the driven tone, so that they sound smooth"),
    "ring-modulator": _late(
        "behind the drives a ring modulator sounds like bells, in front of them like noise"
    ),
    "wah": _early("this school sweeps the plain string first, and levels and drives it behind the wah"),
    "compressor": _early("this school evens the touch before any gain"),
    "tremolo": _late("a tremolo pulses the finished tone, and the delay repeats the pulse"),
}
"""Where the other school has another reason."""


def why_usual(first: str, then: str, school: str, about: str) -> str:
    """Why slot ``first`` stands in front of slot ``then``; both have ranks, and ``first`` the lower one.

    ``about`` is the one of the two whose own reason is rather wanted, where both have a fitting one.
    """
    reasons = USUAL | DYNAMICS_FIRST if school == "dynamics-first" else USUAL
    fitting = [slot for slot, is_late in ((first, False), (then, True)) if reasons[slot].is_late == is_late]
    return reasons[about if about in fitting else fitting[0]].why


def shown_slot(slot: str) -> str:
    """The slot as people say it: `noise gate`."""
    return slot.replace("-", " ")
