"""The rules of order that are about more than two pedals of one path, as data.

They look at an instrument, an amp, its loop, a switcher, branches side by side, or the wiring as a whole;
``places``, ``parallel`` and ``wiring`` apply them.  Rules that never speak stand here with the reason.
"""

from dataclasses import dataclass

from boardshop.core.findings import Finding

PRACTICE = "common practice"


@dataclass(frozen=True, slots=True)
class StandingRule:
    """``about`` says what the rule wants; ``why`` completes "...: <why>." of a message.

    ``unless`` says where it does not hold, ``kept_for`` completes "keep it if ...", and ``silent_because``
    tells why a rule of the trade makes no finding of its own here.
    """

    id: str
    severity: str
    about: str
    why: str
    unless: str = ""
    kept_for: str = ""
    basis: str = PRACTICE
    silent_because: str = ""

    def finding(self, subjects: tuple[str, ...], message: str, cure: str, severity: str = "") -> Finding:
        """``message`` and ``cure`` are whole sentences; ``severity`` where it differs from the rule's."""
        return Finding(self.id, severity or self.severity, subjects, message, cure, self.basis)


STANDING_RULES = {
    rule.id: rule
    for rule in (
        StandingRule(
            "R27",
            "caution",
            "A passive low-value volume treadle has a buffer or an active instrument in front of it.",
            "its pot loads the bare pickup so much that the sound turns quiet and dull",
            unless="the treadle is active",
        ),
        StandingRule(
            "R31",
            "fault",
            "A speaker simulator does not lead into an amp with a guitar speaker.",
            "the sound is filtered by two speakers and comes out dull and boxed",
            unless="the speaker is full-range, or the simulator is never engaged",
        ),
        StandingRule(
            "R33",
            "advice",
            "A speaker simulator and the delay or reverb stand either way round.",
            "both only filter and add, so that the order is not heard in mono and below distortion",
            unless="the simulator is stereo or the reverb modulated: then the two are heard apart",
            silent_because="either order is right, so there is nothing to find",
        ),
        StandingRule(
            "R35",
            "caution",
            "Delay, reverb and stereo modulation stand in the amp's loop where it has one.",
            "where the amp distorts, its gain smears the repeats and the stereo image",
            unless="the amp has no loop, or its speaker is full-range",
            kept_for="the amp runs clean",
        ),
        StandingRule(
            "R36",
            "caution",
            "Fuzz, wah, drive, compressor and tuner stay out of the amp's loop.",
            "the loop's level and impedance are wrong for it, and gain behind the preamp hisses and squeals",
            unless="the pedal is rated for line level",
            kept_for="a boost in the loop is to lift the solo's level",
        ),
        StandingRule(
            "R37",
            "fault",
            "Expression treadles and MIDI controllers stand beside the signal, never in it.",
            "it only controls other pedals and passes no sound",
            unless="an expression treadle doubles as a passive volume and has that role",
        ),
        StandingRule(
            "R38",
            "caution",
            "Behind the first stereo output everything is stereo, there twice, or on a branch of its own.",
            "one side is lost, or the image folds into mono",
            unless="a mixer joins the sides on purpose",
        ),
        StandingRule(
            "R39",
            "fault",
            "Two outputs never share one input by a plain Y lead.",
            "each output loads the other, and the sound distorts and drops",
            unless="a mixer, or a resistor of 10 kohm or more in each leg, joins them",
            silent_because="an input takes one link here, so such wiring is refused when it is entered",
        ),
        StandingRule(
            "R40",
            "fault",
            "Branches that meet in a mixer arrive in equal polarity and at the same time.",
            "branches of opposite polarity cancel where they meet, and the sum is thin or silent",
            unless="one branch passes no dry sound",
            kept_for="the thin tone is wanted",
            basis="calculation",
        ),
        StandingRule(
            "R41",
            "fault",
            "Beside a dry branch a delay or reverb passes only its own sound.",
            "its dry sound adds to the dry branch, which combs through converters and doubles without",
            basis="calculation",
        ),
        StandingRule(
            "R42",
            "caution",
            "A pedal whose repeats are to ring on does not stand in a switched loop.",
            "switching its loop off cuts its repeats dead",
            unless="the loop only switches its send",
            kept_for="the dead stop is wanted",
        ),
        StandingRule(
            "R45",
            "advice",
            "The delays of converters in a row stay below 6 ms together; above 10 ms it is a caution.",
            "their delays add, and the playing feels late",
            unless="only one pedal in the row is digital",
        ),
        StandingRule(
            "R46",
            "advice",
            "An eq stands where its role has it.",
            "in front of a drive it shapes the gain, behind it the tone, in the amp's loop the level",
            silent_because="its recorded role decides the place; without one it stands behind the gain",
        ),
        StandingRule(
            "LEVEL",
            "caution",
            "What gives line level meets line level, and instrument level meets instrument level.",
            "a line level can be ten times what an instrument input expects and clips it; an instrument's "
            "level is so low for a line input that its hiss comes up with it",
        ),
        StandingRule(
            "PHANTOM",
            "damage",
            "48 V phantom power of a mixing desk meets a di or a transformer, never a pedal's output.",
            "phantom power on a pedal's output can destroy it",
            unless="a di stands between",
            basis="IEC 61938",
        ),
        StandingRule(
            "O01",
            "unknown",
            "Every pedal that passes sound is linked.",
            "its place in the order cannot be checked",
        ),
        StandingRule(
            "O02",
            "fault",
            "The signal does not come back to where it was.",
            "it howls, or passes nothing on",
            kept_for="the feedback is played on purpose",
        ),
        StandingRule(
            "O03",
            "unknown",
            "All ways of the signal can be followed.",
            "there are more of them than are checked",
            basis="calculation",
        ),
        StandingRule(
            "O04",
            "fault",
            "Every instrument's signal reaches an amp or a di.",
            "a link is missing, so it is not heard",
            basis="calculation",
        ),
        StandingRule(
            "O05",
            "fault",
            "No branch ends open, and none begins with nothing to feed it.",
            "what stands on an open branch is not heard",
            unless="it is a tuner on an output of its own, or the di that feeds the mixing desk",
        ),
        StandingRule(
            "O07",
            "advice",
            "A splitter has several ways out, a mixer several ways in.",
            "with one way it only stands in the signal",
            kept_for="the other way is plugged in when it is needed",
        ),
        StandingRule(
            "O06",
            "advice",
            "The four-cable method: the loop's level and kind are known, and its leads run together.",
            "leads that run apart enclose a loop that picks up hum",
        ),
    )
}
"""By id; O.. are this program's own, about the wiring, the others are the trade's."""
