"""The kinds that make the tone: gate, filters, levelling, pitch, gain and tone controls."""

from boardshop.core.kinds.note import KindNote

TONE_NOTES: dict[str, KindNote] = {
    "noise-gate": KindNote(
        does="A noise gate turns the sound off when nothing is played, and opens again with the next note. "
        "It decides by level alone, so what is fed to it must be clearly louder while playing than in the "
        "rests. It removes noise only from the pauses; under a sounding note the noise stays.",
        stands="The common order gates early, behind the tuner and in front of the fuzz, where it takes the "
        "pickup's hum before anything makes that louder. "
        "The dynamics-first order gates behind the distortion and in front of the preamp, because there it "
        "also cuts the hiss that the gain makes.",
        otherwise=(
            (
                "A gate with four jacks listens to the clean string and acts behind the drives.",
                "Picking opens it surely, soft notes fade naturally, and hum and hiss go together.",
            ),
            (
                "Some stand it behind a delay or a reverb for a stutter.",
                "Each tail is chopped to silence as soon as it falls below the threshold.",
            ),
        ),
    ),
    "fuzz": KindNote(
        does="A fuzz clips the signal so hard that it turns almost square: thick, long and full of "
        "harmonics. A vintage one, with an input below 100 kohm, loads the pickup and becomes part of one "
        "circuit with it, so it wants the pickup itself in front. A modern one, with a higher input, does "
        "not mind what feeds it.",
        stands="In the common order both sorts stand early, in front of the wah and the compressor. "
        "The dynamics-first order keeps the vintage one near the pickup, but stands the modern fuzz behind "
        "the compressor and in front of the overdrive.",
        otherwise=(
            (
                "Players who want it spitting put a buffer or a buffered pedal in front of a vintage fuzz.",
                "It turns bright, harsh and gated, and no longer cleans up with the instrument's volume.",
            ),
            (
                "Some feed a modern fuzz from an overdrive.",
                "The notes compress and sustain, the attack gets softer, and the hiss between them grows.",
            ),
        ),
    ),
    "bit-crusher": KindNote(
        does="A bit crusher measures the signal in coarse steps and too seldom, and plays that back. "
        "The sound gets grit, and false tones that do not follow the notes. It bites evenly only on a "
        "signal of steady level, since soft notes fall between its steps.",
        stands="The common order treats it as a rough source like a fuzz, behind the fuzz and in front of "
        "the wah, so that everything after it shapes the grit. "
        "The dynamics-first order has it late, as a texture behind the volume and in front of the delay.",
        otherwise=(
            (
                "Some crush what comes out of the delay or the reverb.",
                "The tails break up into grains and end in crackles instead of fading.",
            ),
        ),
    ),
    "wah": KindNote(
        does="A wah is a narrow filter peak that the foot moves up and down, so that notes sound like "
        "vowels. It needs a signal with treble in it, or there is nothing to sweep. Old circuits load the "
        "pickup, and their output impedance moves with the treadle.",
        stands="Both schools sweep before the gain, in front of the compressor and the overdrive, where the "
        "sound stays vocal and even. The common order has it behind the fuzz, since an old wah fights a "
        "vintage fuzz behind it; the exception is a wah with an output buffer. "
        "In the dynamics-first order it follows the vintage fuzz and stands in front of the modern fuzz.",
        otherwise=(
            (
                "Lead players stand it behind the distortion.",
                "The sweep gets wide and harsh like a synthesiser's filter, and jumps in level.",
            ),
            (
                "Vowel players stand it in front of a fuzz that takes it well.",
                "The fuzz talks: the peak decides which note of the growl comes forward.",
            ),
        ),
    ),
    "envelope-filter": KindNote(
        does="An envelope filter, or auto-wah, is a filter that opens with the force of the picking. "
        "It must be given the full difference between soft and hard notes. Whatever levels or distorts "
        "before it takes away what it listens to.",
        stands="Both schools have it right after the wah and in front of the compressor. "
        "In the common order a fuzz comes before both; the dynamics-first order puts the filter in front of "
        "the modern fuzz as well.",
        otherwise=(
            (
                "For synthesiser sounds it is fed from a distortion.",
                "It opens fully on every note and falls shut late, with a buzzing, bass-like quack.",
            ),
            (
                "Some feed it from a delay for the rhythm.",
                "Each repeat sets the filter off again, a little weaker each time.",
            ),
            (
                "A filter with a key input of its own may stand anywhere.",
                "It shapes the finished tone, yet still follows the bare string.",
            ),
        ),
    ),
    "compressor": KindNote(
        does="A compressor holds loud notes down and lifts soft ones, so that they even out and ring longer. "
        "It lifts everything that is soft, noise included. It works best on a signal without hiss in it.",
        stands="Both schools compress before the gain, behind the wah and in front of the overdrive. "
        "In the common order it is also behind the fuzz; the dynamics-first order evens the touch in front "
        "of the modern fuzz.",
        otherwise=(
            (
                "As a leveller with the role limiter it follows the drives, to match them to the clean tone.",
                "The volume is steady from sound to sound, with more hiss between the notes.",
            ),
            (
                "Some compress behind the reverb on purpose.",
                "The tail ducks under each note and swells up in the rests.",
            ),
        ),
    ),
    "pitch-shifter": KindNote(
        does="A pitch shifter plays each note higher or lower by an interval, alone or beside the original. "
        "One with a tracker must first recognise the note, so it wants a clean, single one. An analog "
        "octave-up needs no tracker and is stronger behind something that distorts.",
        stands="In the common order it is fed from the compressor and stands in front of the overdrive. "
        "The dynamics-first order has it earlier, in front of the compressor, so that nothing blurs the "
        "note.",
        otherwise=(
            (
                "Lead players shift a note that is already distorted.",
                "The line gets smooth and organ-like, but chords stumble and warble.",
            ),
            (
                "An analog octave follows whatever distorts, be it a fuzz or a drive.",
                "The upper octave comes out clear and singing instead of as a faint ring.",
            ),
        ),
    ),
    "harmoniser": KindNote(
        does="A harmoniser adds one or more voices that follow the key of the song. "
        "It has to know which note is played, so the clearer the note, the surer the voices. "
        "One that hears chords is less particular.",
        stands="In the common order it hears the plain sound, behind the pitch shifter and in front of the "
        "overdrive. The dynamics-first order adds the voices to the driven tone, behind the distortion and "
        "in front of the delay.",
        otherwise=(
            (
                "Some let it feed a fuzz.",
                "The voices grind against each other, since several notes through one fuzz beat and blur.",
            ),
            (
                "A few harmonise the repeats only.",
                "The answer comes in another voice, and wanders where repeats overlap.",
            ),
        ),
    ),
    "ring-modulator": KindNote(
        does="A ring modulator multiplies the signal with a tone of its own and gives the sums and "
        "differences. These are seldom in tune, so it clangs like metal. A single plain note gives the "
        "clearest result.",
        stands="The common order gives it the plain note, behind the harmoniser and in front of the "
        "overdrive. The dynamics-first order stands it behind the drives, in front of the delay, where it "
        "sounds like bells.",
        otherwise=(
            (
                "Noise players run it into a fuzz.",
                "The clang turns to chaos, because the fuzz makes further tones of every false one.",
            ),
            (
                "Some ring what comes out of the reverb.",
                "The tail itself clangs, off pitch, and chops up as it fades.",
            ),
        ),
    ),
    "synth": KindNote(
        does="A guitar synth follows the played note and sounds a voice of its own in its place. "
        "One that follows a single voice must hear one clean string at a time. Every harmonic or repeat "
        "before it is another note to mistake.",
        stands="Both schools have it early, behind the tuner and in front of the wah and the compressor. "
        "The common order lets a gate come before it; in the dynamics-first order it follows the tuner.",
        otherwise=(
            (
                "Many give it a branch and an amp of its own beside the chain.",
                "Guitar and synth are mixed as two players, and neither colours the other.",
            ),
            (
                "Some track a compressed note.",
                "Notes hold longer before they drop out, but fast runs trigger late.",
            ),
        ),
    ),
    "boost": KindNote(
        does="A boost makes the signal larger, with little colour of its own. "
        "Before a drive the extra level becomes gain; after it, the extra level is heard as volume. "
        "Which of the two is meant is what its role says.",
        stands="With a drive to push, it stands in front of the overdrive in both schools. "
        "As an output boost, with the role level, it lifts the finished sound late in the chain, just "
        "before a looper records it.",
        otherwise=(
            (
                "Some lift a solo in front of the reverb rather than after it.",
                "The note gets louder, and the room around it in the same measure.",
            ),
            (
                "Others lift everything after the looper.",
                "The solo is up, but the recorded layers jump up with it.",
            ),
        ),
    ),
    "overdrive": KindNote(
        does="An overdrive clips gently, like a small amp turned up, and keeps the touch. "
        "More level into it means more grit. It sounds best when it is fed the tone that shall be heard, "
        "not yet its echo.",
        stands="Both schools have it behind the compressor and the boost and in front of the distortion, "
        "since low gain into high gain stays tight.",
        otherwise=(
            (
                "Some run a distortion into it and use it as a small amp.",
                "It gets louder and woollier, and the edges of the distortion are rounded off.",
            ),
            (
                "Players of walls of sound feed it from a delay.",
                "Repeats and notes melt into one level, swelling instead of counting.",
            ),
        ),
    ),
    "distortion": KindNote(
        does="A distortion clips hard at every level, so that loud and soft notes sound equally saturated. "
        "Whatever noise comes in, comes out many times larger. It adds most of the gain of a chain, so "
        "what is before it decides its grain, what is after it the space.",
        stands="Both schools have it behind the overdrive, as the last and highest gain, and in front of the "
        "preamp and the delay.",
        otherwise=(
            (
                "Some put it before the overdrive.",
                "The result is louder and looser in the bass, more like a cranked amp.",
            ),
            (
                "Others distort what a chorus gives.",
                "The movement is buried and turns into a slow growl.",
            ),
        ),
    ),
    "preamp": KindNote(
        does="A preamp, or amp simulator, does what an amp's front end does: gain and tone controls. "
        "Pedals drive it as they would drive an amp. It may take the amp's place altogether, and is then "
        "followed by a speaker's sound.",
        stands="Both schools have it where the amp's input would be: behind the distortion, and in front of "
        "the delay and the cab simulator.",
        otherwise=(
            (
                "With a clean setting, some run delay and reverb into it.",
                "Nothing is smeared; the tone controls then colour the tails as well.",
            ),
            (
                "With a driven setting, a few do the same for the wash.",
                "Repeats are as loud as the notes and flow together.",
            ),
        ),
    ),
    "eq": KindNote(
        does="An eq lifts or lowers parts of the spectrum. "
        "Before gain it decides which part distorts; after gain it shapes the tone that is heard. "
        "What it is for is recorded as its role.",
        stands="Without another role, it shapes the driven tone in both schools: behind the preamp and in "
        "front of the volume. With another role it has no fixed place.",
        otherwise=(
            (
                "Some cut the bass before the drives.",
                "The distortion gets tight and clear, with no mud on the low strings.",
            ),
            (
                "Others stand it in the amp's loop as a solo level.",
                "One step gives more level and middle, with the same amount of gain.",
            ),
        ),
    ),
}
