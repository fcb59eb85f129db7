"""The closed lists of words a plan may use, each once: the loader, the forms and the papers read them."""

FORMAT = "boardshop-board"
VERSION = 1
REPORT_VERSION = 1

KINDS = (
    "tuner",
    "noise-gate",
    "fuzz",
    "bit-crusher",
    "wah",
    "envelope-filter",
    "compressor",
    "pitch-shifter",
    "harmoniser",
    "ring-modulator",
    "synth",
    "boost",
    "overdrive",
    "distortion",
    "preamp",
    "eq",
    "volume",
    "phaser",
    "flanger",
    "vibrato",
    "chorus",
    "rotary",
    "modulation",
    "delay",
    "reverb",
    "tremolo",
    "looper",
    "buffer",
    "cab-simulator",
    "di",
    "splitter",
    "mixer",
    "switcher",
    "expression",
    "midi-controller",
    "wireless-receiver",
    "other",
)

ROLES = ("drive", "level", "input", "swell", "limiter", "master")
"""Settles a kind that stands in several places."""

DEFAULT_ROLES = {"boost": "drive", "eq": "drive", "volume": "swell", "buffer": "input"}
"""The role of a kind that needs one when nobody recorded it."""

JACK_ROLES = ("in", "out", "send", "return", "power", "control", "midi-in", "midi-out", "usb")
OUTPUT_ROLES = ("out", "send")
INPUT_ROLES = ("in", "return")
JOINS = (("out", "in"), ("out", "return"), ("send", "in"), ("send", "return")) + (
    ("midi-out", "midi-in"),
    ("control", "control"),
    ("usb", "usb"),
)
"""Which jack role may lead to which: the one table behind the loader, the link form and its messages."""

SIDES = ("left", "right", "front", "rear")
TURNS = (0, 90, 180, 270)
CHANNELS = ("mono", "stereo")
BYPASSES = ("true", "buffered", "always-on")
CIRCUITS = ("analog", "clocked", "digital", "tube", "passive")
LEVELS = ("instrument", "line")
TRACKERS = ("mono", "poly", "none")
CURRENTS = ("dc", "ac")
POLARITIES = ("centre-negative", "centre-positive")
GROUND_POLES = ("negative", "positive", "floating")
SHARES = ("ok", "poor", "never")
CONNECTORS = (
    "6.35 TS",
    "6.35 TRS",
    "3.5 TRS",
    "3.5 mono",
    "DIN 5",
    "XLR",
    "barrel 5.5/2.1",
    "barrel 5.5/2.5",
    "snap",
    "USB",
    "captive",
)
INLETS = ("C14", "C8", "C6", "captive")
CONVERSIONS = ("linear", "switch-mode")
"""How a supply makes its voltages: a mains transformer, or a switching converter."""

PROTECTION_CLASSES = ("I", "II")
"""Protection against electric shock, IEC 61140."""

SPEAKERS = ("guitar", "full-range")
SURFACES = ("flat", "slotted")
ROUTES = ("top", "under")
CARRIES = ("signal", "midi", "control", "usb")
SCREENS = ("joined", "isolated")
ADAPTERS = ("reverser", "converter", "parallel", "series")
DRAWER_KINDS = ("lead", *ADAPTERS)
STOCK_KINDS = ("reel", "offcut")
FIXINGS = ("soldered", "solderless", "screw", "moulded")
"""How a plug holds its cable; a moulded one cannot be put on cable that is cut."""
MADE_TESTS = ("passed", "failed")
"""What the last test of a made cable said; blank = not tested, or not wholly."""

SCHOOLS = ("common", "dynamics-first")

SEVERITIES = ("danger", "damage", "fault", "unknown", "caution", "advice")
"""Worst first."""

NEVER_KEPT = ("danger", "damage")
"""Severities that can only be cured, never accepted."""

URGENT = (*NEVER_KEPT, "fault")
"""Severities to know of before a board is switched on or a show goes on."""
