"""P01 to P14 as data: one jack and its outlet, and pedals that share an outlet or a return."""

from boardshop.core.power.rule import CALCULATION, Grade, Rule

FEEDING_RULES = (
    Rule(
        "P01",
        "damage",
        when="an AC outlet would feed a jack that takes DC",
        checks="whether alternating current would reach a DC pedal",
        why="Alternating current keeps reversing across parts that stand one direction only, and "
        "destroys them although the plug fits.",
        cure="Feed it from a DC outlet, and mark every AC lead so that it cannot be mistaken.",
    ),
    Rule(
        "P02",
        "fault",
        when="a DC outlet would feed a jack that takes AC",
        checks="whether an AC pedal would be given DC",
        why="Its power section works from alternating current only: it stays dead and may run hot.",
        cure="Feed it from an AC outlet of its own voltage.",
    ),
    Rule(
        "P03",
        "damage",
        when="what the outlet gives without load is above the jack's highest voltage; an outlet that "
        "is not regulated gives 1.3 to 1.6 times its printed voltage then, and a pedal with a "
        "charge pump often stands no more than 10 to 12 V",
        checks="whether the voltage is above what the pedal stands",
        why="Too much voltage breaks down its parts.",
        cure="Choose a setting or an outlet within the pedal's range.",
        unless="the jack's highest voltage is recorded and not passed: a pedal for 9 to 18 V stands 18 V",
    ),
    Rule(
        "P04",
        "fault",
        when="less than the jack's least voltage arrives, from the outlet itself or at the end of the "
        "lead, or a digital pedal hangs on an outlet made to sag",
        checks="whether the voltage is enough for the pedal",
        why="Below its least voltage a pedal falls silent or distorts; a digital one resets or loses "
        "presets.",
        cure="Choose a setting or an outlet within the pedal's range, or a shorter or thicker lead.",
        also=(
            Grade("advice", "an analog pedal whose player asks for it is starved by an outlet made to sag"),
        ),
    ),
    Rule(
        "P05",
        "damage",
        when="the plug's polarity, after the reversers in the lead, is not the jack's",
        checks="whether plus and minus arrive the right way round",
        why="Reversed polarity destroys a pedal that has no protection against it.",
        cure="Put a reverser in this lead, or take one out, and meter the plug before it meets the pedal.",
        unless="either side is AC, or both are USB or both snap, whose shape fixes the polarity",
    ),
    Rule(
        "P06",
        "damage",
        when="a positive-ground and a negative-ground pedal share a return and links join their screens",
        checks="whether the ground poles on this return agree",
        why="The patch leads' screens then tie plus to minus and short the supply through the audio "
        "ground; no plug and no reverser changes that.",
        cure="Give the positive-ground pedal an isolated outlet of its own.",
        unless="either stands alone on an isolated outlet, or one of the two is floating; links with an "
        "isolated screen and DIN MIDI join nothing",
        also=(Grade("caution", "the two share a return and no link joins their screens yet"),),
    ),
    Rule(
        "P07",
        "advice",
        when="a negative-ground pedal hangs by a reverser on a shared return",
        checks="whether a reverser stands on a shared return",
        why="That works, because a reverser only swaps the contacts of the plug; it needs a mark all "
        "the same, since the lead is wrong for every other pedal.",
        cure="Label the reversed lead at both ends.",
        unless="the outlet is isolated and feeds nothing else",
    ),
    Rule(
        "P08",
        "fault",
        when="the currents of all jacks on an outlet or in a group add up to more than its limit at "
        "the chosen voltage",
        checks="how near the load comes to the limit",
        why="An overloaded outlet switches off and on, thumps and hums.",
        cure="Move a load to an outlet with room, or use an outlet with a higher limit.",
        also=(
            Grade(
                "advice",
                "they are above the share of it that the shop plans with, 80 % unless its limits "
                "say otherwise",
            ),
        ),
        basis=CALCULATION,
    ),
    Rule(
        "P09",
        "fault",
        when="what a jack draws at power-up, or all jacks of an outlet or a group together, is above "
        "the limit",
        checks="whether the outlet stands the current at power-up",
        why="The outlet trips or latches when the board is switched on, whatever it carries afterwards.",
        cure="Use an outlet whose limit covers the peak, or switch the loads on one after another.",
        unless="an analog pedal's peak is not recorded: it has none to speak of",
    ),
    Rule(
        "P10",
        "fault",
        when="voltage times current of all outlets add up to more than the supply's power",
        checks="how near the sum of all outlets comes to the supply's power",
        why="The supply has less power than its outlets' limits add up to; past it, all outlets drop "
        "together.",
        cure="Move loads to a second supply, or use one of more power.",
        unless="the supply states no power of its own",
        also=(
            Grade(
                "advice",
                "they are above the share of it that the shop plans with, 80 % unless its limits "
                "say otherwise",
            ),
        ),
        basis=CALCULATION,
    ),
    Rule(
        "P11",
        "caution",
        when="a digital pedal and an analog or tube fuzz, overdrive, distortion or preamp share a return",
        checks="whether a digital and a high-gain pedal share a return",
        why="The digital pedal's clock reaches the gain stage through the shared return and is heard "
        "as a whine.",
        cure="Feed the digital pedal from an isolated outlet of its own.",
        unless="each has an isolated outlet of its own",
    ),
    Rule(
        "P12",
        "caution",
        when="two clocked pedals, that is analog ones with a clock or a charge pump, share a return",
        checks="whether two clocked pedals share a return",
        why="Their clocks beat against each other and the difference is heard as a whistle.",
        cure="Feed one of them from an isolated outlet of its own.",
        unless="each has an isolated outlet of its own",
    ),
    Rule(
        "P13",
        "caution",
        when="a pedal that stands sharing only poorly shares its outlet, or more than 5 pedals hang on one",
        checks="whether this pedal may share an outlet",
        why="Pedals on one outlet hear each other's supply noise.",
        cure="Give it an outlet of its own.",
        unless="the pedal has its outlet to itself, or stands sharing it",
        also=(
            Grade("fault", "the pedal must never share"),
            Grade("advice", "the pedals on one outlet take more than 80 % of its limit"),
        ),
    ),
    Rule(
        "P14",
        "fault",
        when="plug and jack are not the same; 2.1 and 2.5 mm look alike, and neither fits the other",
        checks="whether the plug fits the jack",
        why="A plug that does not seat leaves the pedal dead or drops out when the board is stepped on.",
        cure="Use a lead with the right plug, or a converter whose contacts have been metered.",
        unless="a converter stands in the lead: then P26 asks about that",
    ),
)
