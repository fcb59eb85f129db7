"""The kinds that move the tone, repeat it or give it a room."""

from boardshop.core.kinds.note import KindNote

EFFECT_NOTES: dict[str, KindNote] = {
    "phaser": KindNote(
        does="A phaser mixes the sound with a copy whose phase is turned, so that a few notches sweep "
        "through it. The richer the sound in harmonics, the more there is for the notches to cut.",
        stands="Both schools have it as the first modulation, behind the distortion and the volume and in "
        "front of the chorus and the delay.",
        otherwise=(
            (
                "Many stand it before a fuzz, which is a classic exception.",
                "The sweep is chewy and round, more a change of the fuzz's grain than a whoosh.",
            ),
            (
                "A few phase what comes out of the delay.",
                "Each repeat has another colour, and none comes back as it was played.",
            ),
        ),
    ),
    "flanger": KindNote(
        does="A flanger mixes the sound with a copy a few milliseconds late, and moves that delay. "
        "A comb of notches sweeps through the sound like a jet passing over. It wants plenty of harmonics, "
        "from a drive for example.",
        stands="Both schools have it behind the distortion and the phaser, and in front of the chorus and "
        "the delay.",
        otherwise=(
            (
                "Some run it into a distortion.",
                "The comb is squashed flat: one hears a hollow growl rather than the jet.",
            ),
            (
                "Some flange the reverb instead of the note.",
                "The whole room swooshes, while the attack of each note blurs.",
            ),
        ),
    ),
    "vibrato": KindNote(
        does="A vibrato bends the pitch up and down steadily, with no straight copy beside it. "
        "It takes any signal, but whatever it is given wavers as a whole.",
        stands="Both schools have it among the modulations, behind the phaser and in front of the chorus "
        "and the delay.",
        otherwise=(
            (
                "Standing it before a fuzz is an old habit.",
                "Single notes sing as if the finger bent them; chords rub against themselves.",
            ),
            (
                "Tape lovers stand it behind the delay.",
                "Every repeat wavers like a worn tape.",
            ),
        ),
    ),
    "chorus": KindNote(
        does="A chorus adds one or more slightly late, slightly detuned copies, so that one instrument "
        "sounds like several. On a clean or finished tone it is wide; on a stereo pair wider still.",
        stands="Both schools have it behind the distortion and the flanger, in front of the delay, so that "
        "each repeat keeps the tone as it was played.",
        otherwise=(
            (
                "Some chorus the repeats only, in the delay's own loop or after it.",
                "The note stays dry and straight, and its echoes shimmer.",
            ),
            (
                "Some distort the chorus.",
                "The detuned copies beat in the gain, with a slow, thick growl.",
            ),
        ),
    ),
    "rotary": KindNote(
        does="A rotary effect copies a cabinet with turning horns: level, tone and pitch swing together. "
        "It speeds up and slows down audibly. Such a cabinet would come last, so it wants a tone that is "
        "finished but has no room yet.",
        stands="Both schools have it as the last modulation, behind the chorus and in front of the delay.",
        otherwise=(
            (
                "Some drive it into an overdrive.",
                "It gets the rasp of a cabinet whose amp is turned up, and swings less.",
            ),
            (
                "Some put it last of all, as the cabinet it copies.",
                "Tails turn along with the notes, as if the whole band stood in the horn.",
            ),
        ),
    ),
    "modulation": KindNote(
        does="This is a modulation of a sort that nobody recorded, or one that holds several. "
        "It moves level, tone or pitch in a steady rhythm. Recorded as what it is (phaser, flanger, "
        "vibrato, chorus or rotary), it gets that one's place.",
        stands="Both schools count it with the phaser: behind the distortion and in front of the delay, "
        "since modulating a driven sound is wide.",
        otherwise=(
            (
                "Some modulate before the gain.",
                "The movement is half hidden, and the gain growls along with it.",
            ),
            (
                "A few modulate after the delay.",
                "All repeats wobble together with the new notes.",
            ),
        ),
    ),
    "delay": KindNote(
        does="A delay plays the sound again after a set time, once or many times. "
        "It repeats exactly what it is given, so all that makes the tone belongs before it. "
        "It needs level enough to stay above its own noise.",
        stands="Both schools have it behind the distortion and the chorus and in front of the reverb, so "
        "that clear repeats stand in one room. The dynamics-first order also has it behind the tremolo, "
        "and repeats the pulse.",
        otherwise=(
            (
                "Ambient players run it into a drive.",
                "Repeats and notes share one level and become a wall.",
            ),
            (
                "Some stand it after the reverb.",
                "The room itself is repeated, and rhythm turns to wash.",
            ),
            (
                "Where the amp distorts, it goes into the amp's loop.",
                "Repeats stay clear, however far the amp is turned up.",
            ),
        ),
    ),
    "reverb": KindNote(
        does="A reverb surrounds the sound with the reflections of a room, a plate or springs. "
        "Everything that reaches it stands in that room. It wants the finished sound, at a level that "
        "leaves its quiet tail above the noise.",
        stands="Both schools have it behind the delay and in front of the looper. In the common order a "
        "tremolo may follow; the dynamics-first order has the reverb behind the tremolo.",
        otherwise=(
            (
                "Some run it into a fuzz or a drive on purpose.",
                "The tail is as loud as the note: a standing wall of noise.",
            ),
            (
                "Some feed a delay from it.",
                "Every repeat is washed out from the start.",
            ),
        ),
    ),
    "tremolo": KindNote(
        does="A tremolo turns the level up and down in a steady rhythm. "
        "It chops whatever it is given, a tail as well as a note. Behind it the level is no longer steady, "
        "so nothing that follows the picking should listen there.",
        stands="The common order has it late, behind the reverb and in front of the looper, where the whole "
        "sound pulses. The dynamics-first order has it among the modulations, in front of the delay, as "
        "old amps do; the tails then fill its gaps.",
        otherwise=(
            (
                "Some stand it before a drive.",
                "The pulse becomes a change of grit, and the level hardly moves.",
            ),
            (
                "Some set two rhythms, tremolo into a delay that is not in time with it.",
                "The repeats fall into the gaps and make a new figure.",
            ),
        ),
    ),
    "looper": KindNote(
        does="A looper records what is played and repeats it while one plays on. "
        "It keeps the sound as it was at its input. What comes before it may be changed afterwards without "
        "touching the layers; what comes after it changes them all.",
        stands="Both schools have it behind all effects, the reverb and the tremolo among them, and in front "
        "of the cab simulator. An output boost comes before it, so that a solo does not lift the layers.",
        otherwise=(
            (
                "Some record dry, before the drives or an amp simulator.",
                "The finished loop can be given another tone, but all its layers distort as one.",
            ),
            (
                "For build-ups a drive or a filter follows it.",
                "The whole loop swells and breaks up under the foot.",
            ),
        ),
    ),
}
