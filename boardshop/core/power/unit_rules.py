"""P15 to P30 as data: joined outlets, whole units, what is not recorded, leads, and jacks that wait."""

from boardshop.core.power.rule import Grade, Rule

UNIT_RULES = (
    Rule(
        "P15",
        "fault",
        when="two outlets are joined in parallel without all the conditions for it",
        checks="whether these outlets may be joined in parallel",
        why="Only two isolated, regulated outlets of one model at the same fixed voltage share a load "
        "evenly; otherwise one carries it all.",
        cure="Use one outlet with a limit that is high enough, or two equal ones that the maker lets "
        "be joined.",
    ),
    Rule(
        "P16",
        "damage",
        when="outlets in parallel differ in voltage, polarity or kind of current, or one of them sags "
        "or is not regulated; of AC the phase is asked for",
        checks="whether one of these parallel outlets would feed back into the other",
        why="In parallel the stronger outlet drives current backwards into the other and can destroy it.",
        cure="Take the parallel adapter away and use a single outlet.",
    ),
    Rule(
        "P17",
        "fault",
        when="both outlets that are joined in parallel belong to one group",
        checks="whether joining these outlets gains anything",
        why="Outlets of one group draw on the same limit, so that joining them gives no more current.",
        cure="Use one outlet with a limit that is high enough, or two isolated ones that may be joined.",
    ),
    Rule(
        "P18",
        "fault",
        when="two outlets are put in series without all the conditions for it",
        checks="whether these outlets may be put in series",
        why="Only two isolated outlets of one model, both of the same polarity, add their voltages.",
        cure="Use an outlet that gives the higher voltage itself, or two isolated ones the maker lets "
        "be joined.",
        also=(
            Grade(
                "damage",
                "the two share a return, or another jack hangs on the return of one, which shorts it",
            ),
        ),
    ),
    Rule(
        "P19",
        "fault",
        when="a chain lead has more plugs than it feeds jacks",
        checks="whether an open plug of the lead is capped",
        why="On a centre-negative lead the bare barrel is plus: it shorts the outlet once it touches "
        "the frame.",
        cure="Cap the open plug, or use a lead with no more plugs than pedals.",
    ),
    Rule(
        "P20",
        "damage",
        when="the venue's voltage is above the supply's range, or its frequency is lower than the "
        "transformer is made for while the voltage is not lower in proportion",
        checks="whether the supply may run on the venue's mains",
        why="A supply outside its mains range is destroyed, overheats or does not start.",
        cure="Take a supply for this mains, or ask the venue's electrician for a fitting step-down; an "
        "adapter between plug shapes changes no voltage.",
        unless="no venue is recorded",
        also=(
            Grade("fault", "the venue's voltage is below the supply's range: it does not start"),
            Grade("caution", "the frequency is not on the plate, but the transformer runs no hotter at it"),
        ),
    ),
    Rule(
        "P21",
        "danger",
        when="a class I amp or supply is recorded without its protective earth",
        checks="whether its protective earth is there",
        why="A class I unit relies on its protective earth: without it one fault makes its metal live.",
        cure="Stop using it and have a qualified electrician restore the earth; never lift, cut or tape it.",
        unless="the unit is class II, which has none",
        basis="IEC 61140",
    ),
    Rule(
        "P22",
        "caution",
        when="a USB power jack that no outlet feeds is linked to a computer",
        checks="whether a computer powers this pedal",
        why="Power over USB ties its ground to the computer, whose clock noise is then heard; a USB "
        "2.0 port gives 5 V and at most 500 mA.",
        cure="Use a port or an outlet of its own, or a USB isolator.",
        unless="an outlet feeds the jack",
        basis="USB 2.0",
    ),
    Rule(
        "P23",
        "damage",
        when="an AC outlet feeds more than one jack",
        checks="whether pedals share an AC outlet",
        why="Where one of them rectifies only half the wave, the shared ground shorts the other half.",
        cure="Give every AC pedal an outlet of its own.",
    ),
    Rule(
        "P24",
        "advice",
        when="the voltage of an outlet in use can be changed by hand, by a switch or a knob, or it is "
        "made to sag",
        checks="whether the outlet's switch stands right",
        why="A switch is knocked on the road, and the wrong position destroys the pedal or starves it.",
        cure="Meter the outlet before plugging in, lock or tape the switch, and photograph it.",
    ),
    Rule(
        "P25",
        "advice",
        when="a pedal whose only source is a battery has a lead in its input",
        checks="whether a battery drains",
        why="A lead in the input keeps the pedal switched on: the battery drains, and an empty one leaks.",
        cure="Pull the input lead after playing, and store the pedal without its battery.",
    ),
    Rule(
        "P26",
        "unknown",
        when="a converter between plug shapes stands in the lead; no plate says which way round it is "
        "wired, so it is always asked for, and the other way round it destroys the pedal",
        checks="whether the converter keeps plus and minus where they belong",
        why="One wired the other way round reverses the polarity; on a battery snap the small stud is plus.",
        cure="Meter the converter's far end, then keep this finding with the reading as the reason.",
    ),
    Rule(
        "P27",
        "unknown",
        when="neither the measured nor the rated draw of a fed jack is recorded, or of a pedal not "
        "even whether it needs power",
        checks="what the outlet must carry",
        why="The outlet's load is at least the sum of the known draws.",
        cure="Measure it at its own voltage with all lights on and the loudest settings.",
        unless="the pedal is passive, or a battery is its only source",
    ),
    Rule(
        "P28",
        "fault",
        when="the voltage chosen on a feed is none that the outlet has; the limit is always that of "
        "the chosen one",
        checks="which voltage and which limit hold",
        why="An outlet's limit falls as its voltage rises, so the figure of the chosen voltage counts.",
        cure="Choose one of the outlet's settings.",
    ),
    Rule(
        "P29",
        "advice",
        when="the lead loses more of the nominal voltage than the shop plans with, 3 % unless its "
        "limits say otherwise",
        checks="what the lead loses",
        why="A long or thin lead eats the margin that the pedal's own voltage range is there for.",
        cure="Use a shorter or thicker lead.",
        basis="calculation; resistivity IEC 60028, gauges ASTM B258",
    ),
    Rule(
        "P30",
        "fault",
        when="a power jack has no feed",
        checks="what is fed",
        why="Without power a pedal stays dark; a buffered or always-on one passes no signal either.",
        cure="Feed it from an outlet that suits it, record that it runs on a battery, or take it off "
        "the board.",
        unless="the pedal is recorded to run on a battery",
    ),
)
