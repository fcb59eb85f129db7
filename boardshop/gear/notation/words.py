"""The words of the closed lists as technicians write them; every spelling here is common practice."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from functools import cached_property

from boardshop.core import vocabulary as words

type Spellings = Mapping[str, tuple[str, ...]]

POLARITIES: Spellings = {
    "centre-negative": (
        "center-negative", "centre-neg", "center-neg", "tip-negative", "negative-centre", "negative-center",
        "centre -", "center -", "c-", "centre-minus", "center-minus", "c-minus",
    ),
    "centre-positive": (
        "center-positive", "centre-pos", "center-pos", "tip-positive", "positive-centre", "positive-center",
        "centre +", "center +", "c+", "centre-plus", "center-plus", "c-plus",
    ),
}  # fmt: skip
CURRENTS: Spellings = {"dc": ("d.c.", "direct"), "ac": ("a.c.", "alternating")}
GROUND_POLES: Spellings = {
    "negative": ("ground-negative", "negative-ground", "neg-ground", "ground-neg"),
    "positive": ("ground-positive", "positive-ground", "pos-ground", "ground-pos"),
    "floating": ("ground-floating", "floating-ground"),
}
CONNECTORS: Spellings = {
    "6.35 TS": ("6.35mm TS", "6.3 TS", "6.3mm TS", "1/4 in TS", '1/4" TS', "1/4 TS", "6.35 mono", "6,35 TS"),
    "6.35 TRS": ("6.35mm TRS", "6.3 TRS", "6.3mm TRS", "1/4 in TRS", '1/4" TRS', "1/4 TRS",
                 "6.35 stereo", "6,35 TRS"),
    "3.5 TRS": ("3.5mm TRS", "3.5 stereo", "1/8 in TRS", '1/8" TRS', "3,5 TRS"),
    "3.5 mono": ("3.5mm mono", "3.5 TS", "3.5mm TS", "1/8 in TS", '1/8" TS', "3,5 mono"),
    "DIN 5": ("5-pin DIN", "MIDI DIN", "DIN"),
    "barrel 5.5/2.1": (
        "5.5/2.1", "5.5x2.1", "5.5 x 2.1", "5.5x2.1mm", "5.5 x 2.1 mm", "barrel 5.5x2.1", "barrel 2.1",
        "2.1mm barrel", "2.1 mm", "barrel 5.5 x 2.1 mm", "barrel 5.5x2.1mm", "5,5/2,1", "5,5x2,1",
    ),
    "barrel 5.5/2.5": (
        "5.5/2.5", "5.5x2.5", "5.5 x 2.5", "5.5x2.5mm", "5.5 x 2.5 mm", "barrel 5.5x2.5", "barrel 2.5",
        "2.5mm barrel", "2.5 mm", "barrel 5.5 x 2.5 mm", "barrel 5.5x2.5mm", "5,5/2,5", "5,5x2,5",
    ),
    "snap": ("9V snap", "battery snap", "battery clip"),
    "USB": ("USB-A", "USB-B", "USB-C", "mini USB", "micro USB"),
    "captive": ("fixed lead", "captive lead"),
}  # fmt: skip
SIDES: Spellings = {"rear": ("back", "top"), "left": ("l",), "right": ("r",), "front": ()}
JACK_ROLES: Spellings = {
    "in": ("input",),
    "out": ("output",),
    "return": ("rtn",),
    "control": ("expression", "exp", "remote"),
    "midi-in": (),
    "midi-out": (),
    "power": (),
    "usb": (),
}
CHANNELS: Spellings = {"mono": (), "stereo": ()}
BYPASSES: Spellings = {
    "true": ("true-bypass", "relay", "mechanical", "yes"),
    "buffered": ("buffered-bypass", "buffer"),
    "always-on": (),
}
CIRCUITS: Spellings = {
    "analog": ("analogue",),
    "clocked": ("bbd", "clocked-analog", "clocked-analogue"),
    "digital": ("dsp",),
    "tube": ("valve",),
    "passive": (),
}
LEVELS: Spellings = {"instrument": ("inst",), "line": ()}
TRACKERS: Spellings = {"mono": ("monophonic",), "poly": ("polyphonic",), "none": ("no",)}
SHARES: Spellings = {"ok": ("yes",), "poor": (), "never": ("no",)}
SURFACES: Spellings = {"slotted": ("rails", "slots"), "flat": ("solid",)}
INLETS: Spellings = {
    "C14": ("IEC C14",),
    "C8": ("IEC C8", "figure 8"),
    "C6": ("IEC C6",),
    "captive": ("fixed",),
}
CONVERSIONS: Spellings = {"linear": ("transformer",), "switch-mode": ("switching", "smps", "switched-mode")}
PROTECTION_CLASSES: Spellings = {"I": ("1", "class I", "class 1"), "II": ("2", "class II", "class 2")}
DRAWER_KINDS: Spellings = {
    "lead": ("dc-lead", "dc-cable", "power-lead", "power-cable"),
    "reverser": ("polarity-reverser", "polarity-inverter", "reversing-lead"),
    "converter": ("plug-converter", "plug-adapter"),
    "parallel": ("current-doubler", "parallel-adapter"),
    "series": ("voltage-doubler", "series-adapter"),
}
STOCK_KINDS: Spellings = {"reel": ("roll", "spool"), "offcut": ("off-cut", "cut-off", "remainder")}
FIXINGS: Spellings = {
    "soldered": ("solder",),
    "solderless": ("solder-free", "pierce"),
    "screw": ("screw-terminal", "screwed"),
    "moulded": ("molded",),
}
KINDS: Spellings = {
    "noise-gate": ("gate",),
    "bit-crusher": ("crusher",),
    "envelope-filter": ("auto-wah", "filter", "envelope"),
    "compressor": ("comp",),
    "pitch-shifter": ("pitch", "octaver", "octave"),
    "harmoniser": ("harmonizer",),
    "ring-modulator": ("ring-mod",),
    "synth": ("synthesizer", "synthesiser", "guitar-synth"),
    "overdrive": ("od", "drive"),
    "distortion": ("dist",),
    "preamp": ("pre-amp", "amp-simulator"),
    "eq": ("equalizer", "equaliser"),
    "volume": ("volume-pedal", "volume-treadle", "vol"),
    "rotary": ("rotary-speaker",),
    "modulation": ("mod",),
    "tremolo": ("trem",),
    "looper": ("loop",),
    "cab-simulator": ("cab", "cab-sim", "ir-loader"),
    "di": ("di-box",),
    "switcher": ("loop-switcher",),
    "expression": ("expression-pedal", "expression-treadle", "exp"),
    "midi-controller": ("midi",),
    "wireless-receiver": ("wireless",),
    "tuner": (),
}


@dataclass(frozen=True)
class WordList:
    """A closed list with every spelling that is understood."""

    allowed: tuple[str, ...]
    spellings: Spellings = field(default_factory=dict)

    @cached_property
    def _by_key(self) -> dict[str, str]:
        table = {_key(spelling): word for word in self.allowed for spelling in self.spellings.get(word, ())}
        return table | {_key(word): word for word in self.allowed}

    def find(self, text: str) -> str | None:
        """The list's own word for what was written; None when it is none of them."""
        return self._by_key.get(_key(text))

    @cached_property
    def pattern(self) -> str:
        """A regular expression for any spelling, the longest first, with free spaces and hyphens."""
        texts = {text for word in self.allowed for text in (word, *self.spellings.get(word, ()))}
        ordered = sorted(texts, key=lambda text: (-len(text), text))
        return "(?:" + "|".join(_loosely(text) for text in ordered) + r")(?![\w/])"

    def __str__(self) -> str:
        return ", ".join(self.allowed)


def _key(text: str) -> str:
    plain = re.sub(r"\s*\+$", " plus", re.sub(r"\s*[-−]$", " minus", text.strip().lower()))
    return re.sub(r"[\s_-]+", "", plain)


def _loosely(text: str) -> str:
    return r"[\s-]*".join(re.escape(part) for part in re.split(r"\s+|(?<=\w)-(?=\w)", text))


LISTS: Mapping[str, WordList] = {
    "kind": WordList(words.KINDS, KINDS),
    "role": WordList(words.ROLES),
    "bypass": WordList(words.BYPASSES, BYPASSES),
    "circuit": WordList(words.CIRCUITS, CIRCUITS),
    "level": WordList(words.LEVELS, LEVELS),
    "tracker": WordList(words.TRACKERS, TRACKERS),
    "jack_role": WordList(words.JACK_ROLES, JACK_ROLES),
    "side": WordList(words.SIDES, SIDES),
    "channels": WordList(words.CHANNELS, CHANNELS),
    "connector": WordList(words.CONNECTORS, CONNECTORS),
    "current": WordList(words.CURRENTS, CURRENTS),
    "polarity": WordList(words.POLARITIES, POLARITIES),
    "ground_pole": WordList(words.GROUND_POLES, GROUND_POLES),
    "share": WordList(words.SHARES, SHARES),
    "surface": WordList(words.SURFACES, SURFACES),
    "inlet": WordList(words.INLETS, INLETS),
    "conversion": WordList(words.CONVERSIONS, CONVERSIONS),
    "protection_class": WordList(words.PROTECTION_CLASSES, PROTECTION_CLASSES),
    "drawer_kind": WordList(words.DRAWER_KINDS, DRAWER_KINDS),
    "stock_kind": WordList(words.STOCK_KINDS, STOCK_KINDS),
    "fixing": WordList(words.FIXINGS, FIXINGS),
}
