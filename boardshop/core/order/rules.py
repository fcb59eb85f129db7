"""The rules of order between two pedals of one path, as data.

Each row wants every pedal of its ``first`` slots nearer to the source than every pedal of its ``then`` slots,
where its condition holds.  Rows of severity `fault` also sort: see ``precedence``.  All are common practice.
Rows of one rule that differ in severity or school share its id.

Rules that never speak are not here: either order of a speaker simulator and the delay (both linear), the eq's
place (its role decides it), and two outputs joined on one input (the board file refuses such wiring).
"""

from dataclasses import dataclass
from functools import lru_cache

from boardshop.core.order import conditions
from boardshop.core.order.conditions import Condition
from boardshop.core.order.ranks import (
    DRIVES,
    EFFECTS,
    FUZZES,
    GAINS,
    GATES,
    MODULATIONS,
    SHIFTERS,
    TAILS,
    VOLUMES,
)

ANY = ("*",)
ENDS = ("wireless-receiver", "di")
BOTH_SCHOOLS = ("common", "dynamics-first")


@dataclass(frozen=True, slots=True)
class PairRule:
    """``why`` completes "X comes before Y: ..." for a wrong pair; ``kept_for`` completes "keep it if ..."."""

    id: str
    severity: str
    first: tuple[str, ...]
    then: tuple[str, ...]
    why: str
    kept_for: str = ""
    condition: Condition | None = None
    schools: tuple[str, ...] = BOTH_SCHOOLS
    also: str = ""
    """A further way out, beside moving the pedal."""

    def covers(self, first: str, then: str) -> bool:
        """Whether the rule speaks of these two slots; never of two in the same open-ended place."""
        return (
            (self.first == ANY or first in self.first)
            and (self.then == ANY or then in self.then)
            and not (first == then and first in ENDS and ANY in (self.first, self.then))
        )


PAIR_RULES = (
    PairRule(
        "R01",
        "fault",
        ("wireless-receiver",),
        ANY,
        "the receiver stands in for the instrument lead, and no pedal can feed it",
        "the chain is fed from a recording here",
    ),
    PairRule(
        "R02",
        "fault",
        FUZZES,
        ANY,
        "behind a low source impedance this fuzz turns harsh and gated, and no longer cleans up when the "
        "instrument's volume is turned down",
        "the player wants that spitting sound",
        conditions.vintage_and_low_source,
        also="give the one before it true bypass, or put a pickup simulator between them",
    ),
    PairRule(
        "R03",
        "fault",
        ("tuner",),
        (*SHIFTERS, "ring-modulator", *MODULATIONS, *TAILS, "looper"),
        "the needle follows the effect instead of the string, and muting at the tuner cuts the tails too",
        "the tuner only mutes the end of the chain",
        also="give the tuner an output of its own",
    ),
    PairRule(
        "R04",
        "caution",
        ("tuner",),
        DRIVES,
        "the reading is steadier from the clean string, and muting there silences the noise at its source",
        "the tuner only mutes the end of the chain",
    ),
    PairRule(
        "R04",
        "caution",
        ("tuner",),
        FUZZES,
        "the reading is steadier from the clean string, and muting there silences the noise at its source",
        "the tuner only mutes the end of the chain",
        conditions.no_buffered_tuner_before_vintage,
    ),
    PairRule(
        "R05",
        "caution",
        FUZZES,
        ("wah",),
        "the wah's output impedance moves with the treadle and pulls on the low input of the fuzz, so that "
        "the sweep collapses or squeals",
        "the player wants the vowel sound and the wah gets an output buffer",
        conditions.vintage_and_bare_wah,
    ),
    PairRule(
        "R06",
        "caution",
        ("wah",),
        DRIVES,
        "behind the drive the sweep is larger and harsher and uneven in level, in front of it vocal and even",
        "the wide lead sweep is wanted",
    ),
    PairRule(
        "R07",
        "caution",
        ("envelope-filter",),
        ("compressor", "boost", *DRIVES),
        "the filter follows the picking, and levelled or distorted picking leaves it dull or stuck",
        "the filter listens to a key input of its own",
    ),
    PairRule(
        "R08",
        "caution",
        ("envelope-filter",),
        TAILS,
        "every repeat sets the filter off again",
        "that rhythm is wanted",
    ),
    PairRule(
        "R09",
        "caution",
        ("compressor",),
        DRIVES,
        "after gain the compressor lifts the hiss between the notes by as much as it holds the notes down",
        "it only levels the drive against the clean sound; then give it the role limiter",
    ),
    PairRule(
        "R09",
        "advice",
        ("compressor",),
        FUZZES,
        "after gain the compressor lifts the hiss between the notes; this school compresses first",
        "the levelled fuzz is wanted",
        conditions.modern_then,
        ("dynamics-first",),
    ),
    PairRule(
        "R10",
        "caution",
        ("compressor",),
        (*TAILS, "looper"),
        "the compressor pumps on tails and recorded layers",
        "the pumping is wanted, or it limits the end of the chain; then give it the role limiter",
    ),
    PairRule(
        "R11",
        "advice",
        ("wah", "envelope-filter"),
        ("compressor",),
        "a compressor behind the filter evens out its peak, in front of it the peak stays",
        "the peak is wanted",
    ),
    PairRule(
        "R12",
        "caution",
        ("pitch-shifter",),
        (*DRIVES, *MODULATIONS, *TAILS),
        "the pitch tracker wants one clean note and stumbles over added harmonics and repeats",
        "the smoother lead sound is worth the stumbling",
        conditions.tracks_one_voice,
    ),
    PairRule(
        "R12",
        "caution",
        ("harmoniser",),
        (*MODULATIONS, *TAILS),
        "the pitch tracker wants one clean note and stumbles over moving pitches and repeats",
        "the result is wanted",
        conditions.tracks_one_voice,
    ),
    PairRule(
        "R12",
        "advice",
        ("harmoniser",),
        DRIVES,
        "the harmonies track better from the clean string, and sound smoother from a driven one",
        "smooth harmonised lines are wanted",
        conditions.tracks_one_voice,
        ("common",),
    ),
    PairRule(
        "R13",
        "advice",
        (*FUZZES, *DRIVES),
        ("pitch-shifter",),
        "an analog octave comes out stronger from a full, sustained sound than from the bare string",
        "the clean, ringing octave is wanted",
        conditions.undriven_analog_octave,
    ),
    PairRule(
        "R14",
        "caution",
        ("synth",),
        (*EFFECTS, "preamp"),
        "a synth that follows one voice mistakes every added harmonic and repeat for another note",
        "it has an input of its own",
        conditions.tracks_one_voice,
        also="put the synth on a branch of its own",
    ),
    PairRule(
        "R15",
        "fault",
        GATES,
        (*TAILS, "looper"),
        "the gate closes on the tails and chops them to silence",
        "the stutter is wanted",
    ),
    PairRule(
        "R16",
        "advice",
        (*DRIVES, "preamp"),
        ("noise-gate",),
        "the gate here cleans the pickup's hum, but cannot cut the hiss that the gain makes behind it",
        "only the hum is to be gated",
        schools=("common",),
    ),
    PairRule(
        "R16",
        "caution",
        (*DRIVES, "preamp"),
        ("noise-gate",),
        "hiss is made where the gain is, and a gate in front of it cannot cut it",
        "only the pickup's hum is to be gated",
        schools=("dynamics-first",),
    ),
    PairRule(
        "R17",
        "caution",
        ("boost", "overdrive"),
        ("distortion",),
        "low gain into high gain is tight, the reverse is louder and woollier",
        "the second one is used like a small amp",
    ),
    PairRule(
        "R18",
        "caution",
        (*FUZZES, *DRIVES),
        ("flanger", "chorus", "rotary", "modulation"),
        "modulation after distortion is wide, before it the movement is buried and growls",
        "the buried movement is wanted",
    ),
    PairRule(
        "R19",
        "caution",
        GAINS,
        ("delay",),
        "the repeats are distorted together with the note and smear into one level",
        "a wall of sound is wanted",
    ),
    PairRule(
        "R20",
        "caution",
        GAINS,
        ("reverb",),
        "the tail is distorted too and turns to mud",
        "a wall of noise is wanted",
    ),
    PairRule(
        "R21",
        "caution",
        MODULATIONS,
        ("delay",),
        "behind the delay the modulation wobbles all the repeats, in front of it each one stays as it was",
        "only the repeats are to move",
    ),
    PairRule(
        "R22",
        "caution",
        ("delay",),
        ("reverb",),
        "the delay repeats the whole room and blurs it; the other way the repeats stay distinct in one room",
        "that wash is wanted",
    ),
    PairRule(
        "R23",
        "advice",
        ("reverb",),
        ("tremolo",),
        "the reverb fills the tremolo's gaps; behind the reverb the whole sound pulses",
        "the filled gaps are wanted",
        schools=("common",),
    ),
    PairRule(
        "R24",
        "caution",
        DRIVES,
        ("volume",),
        "in front of a drive the treadle changes the gain and hardly the level",
        "the player wants the gain under the foot; then give it the role input",
    ),
    PairRule(
        "R25",
        "caution",
        ("volume",),
        TAILS,
        "closing the treadle cuts the tails off instead of letting them ring",
        "it is the master volume; then give it that role",
    ),
    PairRule(
        "R26",
        "caution",
        VOLUMES,
        ANY,
        "a high-value pot driven by a buffer dulls the treble in mid sweep, because it then stands in "
        "series with the cable behind it",
        "the lost treble is accepted",
        conditions.high_passive_pot_behind,
        also="use a low-value or an active treadle, or a buffer right behind it",
    ),
    PairRule(
        "R28",
        "caution",
        ("output boost",),
        ("looper",),
        "stepping on it for a solo lifts the recorded layers as well",
        "it is to lift the whole rig",
    ),
    PairRule(
        "R29",
        "caution",
        (*EFFECTS, "synth"),
        ("looper",),
        "switching this effect changes the layers already recorded",
        "recorded layers are to be changed afterwards",
    ),
    PairRule(
        "R30",
        "fault",
        ("preamp",),
        ("cab-simulator",),
        "the speaker's filter belongs after the gain, and the gain behind it brings back what it took away",
    ),
    PairRule(
        "R32",
        "caution",
        ("preamp",),
        (*MODULATIONS, *TAILS),
        "the preamp's gain distorts what the effect adds",
        "the preamp is set clean",
    ),
    PairRule(
        "R34",
        "fault",
        ANY,
        ("di",),
        "behind its output the signal is at microphone level, where no pedal works",
        "the di feeds a clean recording only",
        also="carry on from the di's through jack",
    ),
    PairRule(
        "R43",
        "advice",
        ("bit-crusher", "ring-modulator"),
        TAILS,
        "the rough sound chops up the tails; in front of them it is repeated as it is",
        "chopped tails are wanted",
    ),
    PairRule(
        "R44",
        "advice",
        ("tremolo",),
        ("delay",),
        "this school lets the delay repeat the pulse instead of chopping the repeats",
        "pulsing repeats are wanted",
        schools=("dynamics-first",),
    ),
)


@lru_cache(maxsize=4096)
def rules_for(first: str, then: str, school: str) -> tuple[PairRule, ...]:
    """The rows that want a pedal of slot ``first`` before one of slot ``then``."""
    return tuple(rule for rule in PAIR_RULES if school in rule.schools and rule.covers(first, then))


@lru_cache(maxsize=4096)
def sorting_rules_for(first: str, then: str, school: str) -> tuple[PairRule, ...]:
    """Those of them that a chain is sorted by; the receiver goes first even where a fuzz wants to."""
    if then == "wireless-receiver":
        return ()
    return tuple(rule for rule in rules_for(first, then, school) if rule.severity == "fault")
