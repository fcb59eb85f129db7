"""The kinds that carry the signal, measure it, part it or control others, and leave the tone alone."""

from boardshop.core.kinds.note import KindNote

CARRYING_NOTES: dict[str, KindNote] = {
    "tuner": KindNote(
        does="A tuner shows how far a string is from its pitch, and usually mutes what follows. "
        "It reads one plain string best; anything that moves or doubles the pitch moves its needle. "
        "A buffered one drives the cable behind it.",
        stands="Both schools have it right at the start, behind an input buffer and in front of the wah and "
        "everything else that sounds. A vintage fuzz and a buffered tuner are the exception: there the "
        "fuzz goes first.",
        otherwise=(
            (
                "Some hang it on the tuner output of a volume treadle or a switcher.",
                "Nothing is heard of it at all, since the sound does not pass through it.",
            ),
            (
                "Some stand it last, with the role master, as a mute for the stage.",
                "Tails go silent at once, and the needle is less steady while an effect is on.",
            ),
        ),
    ),
    "volume": KindNote(
        does="A volume treadle sets the level by foot. "
        "What that does depends on what follows: gain gets less gain, a delay or a reverb keeps ringing. "
        "A passive one is only a pot: a high value wants the pickup before it, a low value a buffer.",
        stands="Without another role it is for swells, in both schools behind the distortion and the eq and "
        "in front of the delay, where it sets the level and nothing else. The role input puts it right "
        "after the tuner, the role master near the end.",
        otherwise=(
            (
                "Some use it as the instrument's own knob, with the role input.",
                "Drives clean up as it closes, while the loudness changes little.",
            ),
            (
                "Others set the whole rig's level with it, with the role master.",
                "Notes and tails fade out together, and no gain changes.",
            ),
        ),
    ),
    "buffer": KindNote(
        does="A buffer passes the sound unchanged, but with a strong output that long cables do not dull. "
        "At its input it hardly loads the pickup. A low-input fuzz or an old passive filter wants to come "
        "before it.",
        stands="Both schools have an input buffer at the start, behind a wireless receiver and in front of "
        "the tuner. With the role level it is an output buffer and drives the run to the amp.",
        otherwise=(
            (
                "Owners of a vintage fuzz stand the buffer after it.",
                "The fuzz stays warm and follows the volume knob, and the cables after it stay bright.",
            ),
            (
                "Some use none, with a few true-bypass pedals and short leads.",
                "The top is a little softer, and changes as the guitar's volume is turned.",
            ),
        ),
    ),
    "cab-simulator": KindNote(
        does="A cab simulator filters the sound as a guitar speaker and a microphone would. "
        "It is for full-range speakers, headphones and the mixing desk. It wants all the gain before it, "
        "since a speaker makes none.",
        stands="Both schools have it behind the preamp and the looper, in front of the di. It never leads "
        "into a real guitar speaker, unless it is bypassed on that output.",
        otherwise=(
            (
                "Some have a clean delay or reverb after it.",
                "In mono no difference is heard; a stereo reverb keeps more of its width.",
            ),
            (
                "Feeding a guitar amp through it happens by mistake.",
                "Two speakers filter in turn, so it sounds dull and boxed.",
            ),
        ),
    ),
    "di": KindNote(
        does="A di turns the signal into a balanced one at microphone level, for the long run to the desk. "
        "A passive one loads what feeds it and wants a buffered source. It keeps the desk's phantom "
        "voltage away from the pedals.",
        stands="Both schools have it last, behind the cab simulator: no pedal works at microphone level. "
        "The amp is fed from its through jack.",
        otherwise=(
            (
                "For recording, some tap the clean instrument at the start and go on from the through jack.",
                "Nothing changes on stage, and the dry track can be sent through pedals again later.",
            ),
        ),
    ),
    "splitter": KindNote(
        does="A splitter sends one signal to two or more places, such as two amps or a tuner. "
        "An active one feeds each place on its own; a plain Y lead lets all of them load the source. "
        "To join two outputs a mixer is needed, never the same lead the other way round.",
        stands="It has no number in either school, because the wiring says where it is: where the ways "
        "part. Everything common to them comes before it.",
        otherwise=(
            (
                "Some split the bare pickup with a passive lead.",
                "Two inputs load it together, and the top gets duller.",
            ),
            (
                "Some split at the very start, for a dry recording.",
                "The stage sound is as before, as long as the splitter is active.",
            ),
        ),
    ),
    "mixer": KindNote(
        does="A mixer adds two or more signals without letting their outputs work against each other. "
        "Its branches should arrive at the same time and with the same polarity. A delay or reverb on one "
        "of them should give no dry sound if another branch already does.",
        stands="It has no number in either school; it stands where branches meet again. All that shapes the "
        "sum follows it.",
        otherwise=(
            (
                "Some leave one branch inverted on purpose.",
                "The lows cancel, and a thin, nasal tone is left.",
            ),
            (
                "Two digital branches of unlike delay are sometimes mixed with their dry sound on.",
                "The sum is hollow, as if heard through a pipe.",
            ),
        ),
    ),
    "switcher": KindNote(
        does="A loop switcher has pairs of send and return jacks and takes each loop in or out with one "
        "step. Pedals that are out do not load or colour the sound. Its own buffer, if on, is one more "
        "buffer for a fuzz to mind.",
        stands="It has no number in either school: the pedals in its loops are ordered, in the order of the "
        "loops. By itself it may be anywhere before the amp.",
        otherwise=(
            (
                "Some keep delay and reverb out of its loops, or in a loop that switches only the send.",
                "Tails ring on when the sound changes.",
            ),
            (
                "Others have them in a normal loop for dead stops.",
                "The echo is cut off on the step, as sharply as by a mute.",
            ),
        ),
    ),
    "expression": KindNote(
        does="An expression treadle tells another pedal how far the foot is down. "
        "It is only a pot on a control lead, and no sound passes through it. "
        "It needs a control jack that is wired for it.",
        stands="It has no number and stands beside the audio path, next to what it controls. "
        "Only where it doubles as a passive volume, with such a role recorded, may the sound pass it.",
        otherwise=(
            (
                "A few use one as a passive volume.",
                "It works, but the travel feels uneven, and its low pot dulls a bare pickup.",
            ),
        ),
    ),
    "midi-controller": KindNote(
        does="A MIDI controller sends numbers that choose programs and turn values in other pedals. "
        "It carries no sound. It needs a MIDI link to each pedal that shall listen, straight or passed on.",
        stands="It has no number and stands beside the audio path, at the front edge where the foot finds "
        "it.",
        otherwise=(
            (
                "Some do without it and switch pedal by pedal.",
                "The sound does not change, but a change of several pedals is heard as several clicks.",
            ),
        ),
    ),
    "wireless-receiver": KindNote(
        does="A wireless receiver takes the place of the lead from the guitar. "
        "Its output is a buffer's, so the pickup no longer feels what follows. It wants distance from "
        "switching supplies and metal covers.",
        stands="Both schools have it first of all, in front of the buffer and the tuner, because no pedal "
        "can feed it.",
        otherwise=(
            (
                "Players with a vintage fuzz put a pickup simulator after it, or play that song on a lead.",
                "With it the fuzz is warm again; without it the fuzz spits and cuts off.",
            ),
            (
                "For re-amping, a recorder's output replaces it.",
                "It sounds as if the guitar were plugged in, at whatever level the recorder sends.",
            ),
        ),
    ),
    "other": KindNote(
        does="This is a pedal whose kind is not on the list. "
        "Boardshop cannot know what it does to the sound, so it asks nothing of its place. "
        "The rules that hold for every pedal, such as a vintage fuzz near the pickup, hold for it too.",
        stands="It has no number in either school. "
        "A good first guess is the place of the kind that it sounds most like.",
        otherwise=(
            (
                "Where the place is open, try it before and after the drives.",
                "Before them it changes the grit, after them the tone.",
            ),
        ),
    ),
}
