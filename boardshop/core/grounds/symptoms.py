"""What is heard, and what to suspect first: the order in which to test.

Basis: common practice; where a rule of this program looks for it, its id stands beside it.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Symptom:
    heard: str
    suspects: tuple[str, ...]
    """In the order in which they are tested."""
    rules: tuple[str, ...] = ()


SYMPTOMS: tuple[Symptom, ...] = (
    Symptom(
        "A low hum at mains frequency (50 or 60 Hz) that changes as the guitar is turned",
        (
            "No loop: the pickup hears a transformer. Move half a metre away from it.",
            "Turn the guitar: where the hum is least, the pickup stands across the field.",
        ),
    ),
    Symptom(
        "A steady hum that stays with the guitar unplugged and the input shorted",
        (
            "A loop through the protective earth, as with two amps.",
            "A screen that is open at one end.",
        ),
        ("G01",),
    ),
    Symptom(
        "A buzz at twice the mains frequency (100 or 120 Hz)",
        (
            "A dimmer on the same circuit, or a rectifier or unregulated supply nearby.",
            "A worn filter capacitor in an amp or a supply.",
            "A loop through a shared supply return.",
        ),
        ("P03", "G01"),
    ),
    Symptom(
        "A high whine whose pitch goes with a clock or a display",
        (
            "A digital pedal and a gain pedal, or two clocked pedals, on one return: an outlet of its own.",
            "A laptop joined by USB.",
        ),
        ("P11", "P12", "P22"),
    ),
    Symptom(
        "A tick in the tempo",
        (
            "The current of a lamp or of a low-frequency oscillator: give that pedal an outlet of its own.",
            "Its DC lead beside a signal lead: lay them apart.",
        ),
    ),
    Symptom(
        "Hiss",
        (
            "The order of the gain stages, and where the noise gate stands.",
            "Gain pedals in the amp's loop, or a level that does not suit it.",
        ),
        ("R36", "LEVEL"),
    ),
    Symptom(
        "Radio, chirps",
        (
            "A bad screen; the first cable before all others.",
            "A solderless plug whose screw has come loose.",
            "A ferrite on the lead or a buffer at its start keeps it out.",
        ),
    ),
    Symptom(
        "A pop as a pedal is switched",
        (
            "A true-bypass pedal whose pull-down resistor (about 1 Mohm) is missing.",
            "A coupling capacitor that lets DC through.",
            "A relay that mutes too late.",
        ),
    ),
)
