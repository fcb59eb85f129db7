"""What may feed what: the rules as data, and how a rule that speaks becomes a finding.

The ids are the trade's numbered power rules P01 to P28; ours are P29, for what a lead loses, and P30, for
power jacks that nothing feeds.
A test over a rule answers with a `Hit` (the rule is broken), a `Missing` (a value it needs is not recorded)
or None (nothing to say); `say` turns an answer into a finding.
"""

from dataclasses import dataclass

from boardshop.core.findings import Finding
from boardshop.core.power.feeding_rules import FEEDING_RULES
from boardshop.core.power.rule import CALCULATION, COMMON, Rule
from boardshop.core.power.unit_rules import UNIT_RULES

__all__ = ["CALCULATION", "COMMON", "GAPS", "RULES", "Gap", "Hit", "Missing", "Outcome", "Rule", "say"]


@dataclass(frozen=True, slots=True)
class Gap:
    """A value nobody recorded: of what kind (a key of `GAPS`), and whose."""

    kind: str
    owner: str


@dataclass(frozen=True, slots=True)
class Hit:
    """The rule is broken; ``says`` is a full sentence, the others replace the rule's own where given."""

    says: str
    severity: str | None = None
    cure: str | None = None
    why: str | None = None


@dataclass(frozen=True, slots=True)
class Missing:
    gaps: tuple[Gap, ...]
    says: str = ""
    """A sentence on what is known and speaks against it all the same."""
    first: str = ""
    """What to do before the gaps are filled."""


type Outcome = Hit | Missing | None

RULES: dict[str, Rule] = {rule.id: rule for rule in (*FEEDING_RULES, *UNIT_RULES)}

GAPS: dict[str, tuple[str, str]] = {
    "outlet current": ("DC or AC from {}", "Read the outlet's marking."),
    "jack current": ("DC or AC for {}", "Read the marking beside the jack or the manual."),
    "settings": ("the voltages of {}", "Read the supply's marking or meter the outlet."),
    "chosen setting": ("the voltage chosen on {}", "Look at its switch, meter it and record the setting."),
    "no-load volts": (
        "what {}, which is not regulated, gives without load",
        "Meter it unloaded: such outlets give 1.3 to 1.6 times the printed voltage (common practice).",
    ),
    "regulated": ("the regulation of {}", "Read the manual, or meter it unloaded and loaded."),
    "max": (
        "the highest voltage for {}",
        "Read the label or the manual, or ask: one with a charge pump often stands only 10 to 12 V.",
    ),
    "min": ("the least voltage for {}", "Read the label or the manual, or ask its maker."),
    "outlet polarity": ("the plug polarity of {}", "Meter the plug before it meets a pedal."),
    "jack polarity": ("the plug polarity of {}", "Read the mark beside the jack or the manual."),
    "ground pole": (
        "the ground pole of {}",
        "Unplug it and meter from the sleeve of an audio jack to both contacts of the power jack.",
    ),
    "outlet connector": ("the plug of {}", "Look at the lead and measure its bore."),
    "jack connector": ("the connector of {}", "Look at the jack and measure its pin."),
    "captive plug": ("which plug the captive lead of {} ends in", "Look at the lead and measure its bore."),
    "circuit": (
        "the kind of circuit (analog, clocked or digital) of {}",
        "Read the manual or ask its maker.",
    ),
    "load": ("the draw of {}", "Measure it at its own voltage, all lights on and the loudest settings."),
    "peak": ("the peak of {} at power-up", "Measure it with the meter's hold function at power-up."),
    "limit": ("the current limit of {}", "Read the supply's marking or manual."),
    "share": ("how well sharing an outlet suits {}", "Try it and listen, then record it."),
    "joining": ("how {} are joined", "Record whether the adapter puts them in parallel or in series."),
    "second outlet": ("which second outlet is joined with {}", "Record both outlets on the feed."),
    "parallel_ok": ("whether the maker of {} lets outlets be joined in parallel", "Read the manual or ask."),
    "series_ok": ("whether the maker of {} lets outlets be put in series", "Read the manual or ask."),
    "model": ("the model of {}", "Read its plate."),
    "phase": ("whether the AC of {} is in phase", "Have it measured; joining AC out of phase shorts them."),
    "converter": ("which way round the converter at {} is wired", "Meter its far end before plugging in."),
    "class": ("the protection class of {}", "Read its plate: a square in a square means class II."),
    "earthed": ("whether {} has its protective earth", "Have a qualified person test it."),
    "computer earthed": ("whether {} is joined to earth", "Look at its power unit: a third pin joins it."),
    "mains range": ("which mains voltage {} takes", "Read its plate."),
    "mains frequency": ("which mains frequency {} takes", "Read its plate."),
    "venue voltage": ("the mains voltage of {}", "Ask the venue's electrician, and meter the socket first."),
    "venue frequency": ("the mains frequency of {}", "Ask the venue's electrician."),
    "needs": ("the power needs of {}, if any", "Read its label or manual, or record that it is passive."),
    "lead": ("the lead of {}", "Record its length and its gauge."),
    "lead length": ("the length of the lead of {}", "Measure it."),
    "lead gauge": ("the conductor of the lead of {}", "Read the jacket's print or measure the strands."),
    "tail length": ("the length of the tail to {}", "Measure it."),
    "tail gauge": ("the conductor of the tail to {}", "Read the jacket's print or measure the strands."),
}
"""Each kind of value a rule may need: how it is named, and how to get it (common practice)."""


def say(rule_id: str, subjects: tuple[str, ...], outcome: Outcome) -> tuple[Finding, ...]:
    """The finding for what a test answered; none for None."""
    if outcome is None:
        return ()
    rule = RULES[rule_id]
    if isinstance(outcome, Missing):
        return (_say_missing(rule, subjects, outcome),)
    return (
        Finding(
            rule=rule_id,
            severity=outcome.severity or rule.severity,
            subjects=subjects,
            message=f"{outcome.says} {rule.why if outcome.why is None else outcome.why}".strip(),
            cure=outcome.cure or rule.cure,
            basis=rule.basis,
        ),
    )


def _say_missing(rule: Rule, subjects: tuple[str, ...], missing: Missing) -> Finding:
    names = " and ".join(GAPS[gap.kind][0].format(gap.owner) for gap in missing.gaps)
    ways = dict.fromkeys([missing.first, *(GAPS[gap.kind][1] for gap in missing.gaps)])
    return Finding(
        rule=rule.id,
        severity="unknown",
        subjects=subjects,
        message=f"{missing.says} Not recorded: {names}. It cannot be checked {rule.checks}.".lstrip(),
        cure=" ".join(ways).lstrip(),
        basis=rule.basis,
    )


def shorten(rule_id: str, message: str) -> str:
    """A finding's message without the reason that its rule always gives, to stand beside the thing itself."""
    rule = RULES.get(rule_id)
    return message.removesuffix(f" {rule.why}") if rule else message
