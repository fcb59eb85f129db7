"""What may feed what: the rules as data, and how a rule that speaks becomes a finding.

The ids are the trade's numbered power rules P01 to P28; ours are P29, for what a lead loses, and P30, for
power jacks that nothing feeds.
A test over a rule answers with a `Hit` (the rule is broken), a `Missing` (a value it needs is not recorded)
or None (nothing to say); `say` turns an answer into a finding.
"""

from dataclasses import dataclass

from boardshop.core.findings import Finding

COMMON = "common practice"
CALCULATION = "calculation"


@dataclass(frozen=True, slots=True)
class Rule:
    """One rule; ``severity`` is that of the usual hit, ``checks`` completes "It cannot be checked ..."."""

    id: str
    severity: str
    checks: str
    why: str
    cure: str
    basis: str = COMMON


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

_RULES = (
    Rule(
        "P01",
        "damage",
        "whether alternating current would reach a DC pedal",
        "Alternating current keeps reversing across parts that stand one direction only, "
        "and destroys them although the plug fits.",
        "Feed it from a DC outlet, and mark every AC lead so that it cannot be mistaken.",
    ),
    Rule(
        "P02",
        "fault",
        "whether an AC pedal would be given DC",
        "Its power section works from alternating current only: it stays dead and may run hot.",
        "Feed it from an AC outlet of its own voltage.",
    ),
    Rule(
        "P03",
        "damage",
        "whether the voltage is above what the pedal stands",
        "Too much voltage breaks down its parts.",
        "Choose a setting or an outlet within the pedal's range.",
    ),
    Rule(
        "P04",
        "fault",
        "whether the voltage is enough for the pedal",
        "Below its least voltage a pedal falls silent or distorts; a digital one resets or loses presets.",
        "Choose a setting or an outlet within the pedal's range, or a shorter or thicker lead.",
    ),
    Rule(
        "P05",
        "damage",
        "whether plus and minus arrive the right way round",
        "Reversed polarity destroys a pedal that has no protection against it.",
        "Put a reverser in this lead, or take one out, and meter the plug before it meets the pedal.",
    ),
    Rule(
        "P06",
        "damage",
        "whether the ground poles on this return agree",
        "The patch leads' screens then tie plus to minus and short the supply through the audio ground; "
        "no plug and no reverser changes that.",
        "Give the positive-ground pedal an isolated outlet of its own.",
    ),
    Rule(
        "P07",
        "advice",
        "whether a reverser stands on a shared return",
        "That works, because a reverser only swaps the contacts of the plug; it needs a mark all the same, "
        "since the lead is wrong for every other pedal.",
        "Label the reversed lead at both ends.",
    ),
    Rule(
        "P08",
        "fault",
        "how near the load comes to the limit",
        "An overloaded outlet switches off and on, thumps and hums.",
        "Move a load to an outlet with room, or use an outlet with a higher limit.",
        CALCULATION,
    ),
    Rule(
        "P09",
        "fault",
        "whether the outlet stands the current at power-up",
        "The outlet trips or latches when the board is switched on, whatever it carries afterwards.",
        "Use an outlet whose limit covers the peak, or switch the loads on one after another.",
    ),
    Rule(
        "P10",
        "fault",
        "how near the sum of all outlets comes to the supply's power",
        "The supply has less power than its outlets' limits add up to; past it, all outlets drop together.",
        "Move loads to a second supply, or use one of more power.",
        CALCULATION,
    ),
    Rule(
        "P11",
        "caution",
        "whether a digital and a high-gain pedal share a return",
        "The digital pedal's clock reaches the gain stage through the shared return and is heard as a whine.",
        "Feed the digital pedal from an isolated outlet of its own.",
    ),
    Rule(
        "P12",
        "caution",
        "whether two clocked pedals share a return",
        "Their clocks beat against each other and the difference is heard as a whistle.",
        "Feed one of them from an isolated outlet of its own.",
    ),
    Rule(
        "P13",
        "caution",
        "whether this pedal may share an outlet",
        "Pedals on one outlet hear each other's supply noise.",
        "Give it an outlet of its own.",
    ),
    Rule(
        "P14",
        "fault",
        "whether the plug fits the jack",
        "A plug that does not seat leaves the pedal dead or drops out when the board is stepped on.",
        "Use a lead with the right plug, or a converter whose contacts have been metered.",
    ),
    Rule(
        "P15",
        "fault",
        "whether these outlets may be joined in parallel",
        "Only two isolated, regulated outlets of one model at the same fixed voltage share a load evenly; "
        "otherwise one carries it all.",
        "Use one outlet with a limit that is high enough, or two equal ones that the maker lets be joined.",
    ),
    Rule(
        "P16",
        "damage",
        "whether one of these parallel outlets would feed back into the other",
        "In parallel the stronger outlet drives current backwards into the other and can destroy it.",
        "Take the parallel adapter away and use a single outlet.",
    ),
    Rule(
        "P17",
        "fault",
        "whether joining these outlets gains anything",
        "Outlets of one group draw on the same limit, so that joining them gives no more current.",
        "Use one outlet with a limit that is high enough, or two isolated ones that may be joined.",
    ),
    Rule(
        "P18",
        "fault",
        "whether these outlets may be put in series",
        "Only two isolated outlets of one model, both of the same polarity, add their voltages.",
        "Use an outlet that gives the higher voltage itself, or two isolated ones the maker lets be joined.",
    ),
    Rule(
        "P19",
        "fault",
        "whether an open plug of the lead is capped",
        "On a centre-negative lead the bare barrel is plus: it shorts the outlet once it touches the frame.",
        "Cap the open plug, or use a lead with no more plugs than pedals.",
    ),
    Rule(
        "P20",
        "damage",
        "whether the supply may run on the venue's mains",
        "A supply outside its mains range is destroyed, overheats or does not start.",
        "Take a supply for this mains, or ask the venue's electrician for a fitting step-down; "
        "an adapter between plug shapes changes no voltage.",
    ),
    Rule(
        "P21",
        "danger",
        "whether its protective earth is there",
        "A class I unit relies on its protective earth: without it one fault makes its metal live.",
        "Stop using it and have a qualified electrician restore the earth; never lift, cut or tape it.",
        "IEC 61140",
    ),
    Rule(
        "P22",
        "caution",
        "whether a computer powers this pedal",
        "Power over USB ties its ground to the computer, whose clock noise is then heard; "
        "a USB 2.0 port gives 5 V and at most 500 mA.",
        "Use a port or an outlet of its own, or a USB isolator.",
        "USB 2.0",
    ),
    Rule(
        "P23",
        "damage",
        "whether pedals share an AC outlet",
        "Where one of them rectifies only half the wave, the shared ground shorts the other half.",
        "Give every AC pedal an outlet of its own.",
    ),
    Rule(
        "P24",
        "advice",
        "whether the outlet's switch stands right",
        "A switch is knocked on the road, and the wrong position destroys the pedal or starves it.",
        "Meter the outlet before plugging in, lock or tape the switch, and photograph it.",
    ),
    Rule(
        "P25",
        "advice",
        "whether a battery drains",
        "A lead in the input keeps the pedal switched on: the battery drains, and an empty one leaks.",
        "Pull the input lead after playing, and store the pedal without its battery.",
    ),
    Rule(
        "P26",
        "damage",
        "whether the converter keeps plus and minus where they belong",
        "One wired the other way round reverses the polarity; on a battery snap the small stud is plus.",
        "Meter the converter's far end, then keep this finding with the reading as the reason.",
    ),
    Rule(
        "P27",
        "unknown",
        "what the outlet must carry",
        "The outlet's load is at least the sum of the known draws.",
        "Measure it at its own voltage with all lights on and the loudest settings.",
    ),
    Rule(
        "P28",
        "fault",
        "which voltage and which limit hold",
        "An outlet's limit falls as its voltage rises, so the figure of the chosen voltage counts.",
        "Choose one of the outlet's settings.",
    ),
    Rule(
        "P29",
        "advice",
        "what the lead loses",
        "A long or thin lead eats the margin that the pedal's own voltage range is there for.",
        "Use a shorter or thicker lead.",
        "calculation; resistivity IEC 60028, gauges ASTM B258",
    ),
    Rule(
        "P30",
        "fault",
        "what is fed",
        "Without power a pedal stays dark; a buffered or always-on one passes no signal either.",
        "Feed it from an outlet that suits it, record that it runs on a battery, or take it off the board.",
    ),
)

RULES: dict[str, Rule] = {rule.id: rule for rule in _RULES}

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
    "max": ("the highest voltage for {}", "Read the label or the manual, or ask its maker."),
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
