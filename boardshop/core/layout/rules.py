"""The layout rules as data, and one function that makes a finding from each."""

from dataclasses import dataclass

from boardshop.core.findings import Finding


@dataclass(frozen=True, slots=True)
class LayoutRule:
    severity: str
    cure: str
    basis: str


FITS = "calculation"
"""Plain geometry over the recorded sizes."""
TRADE = "common practice"
MEMORY = "from memory"

LAYOUT_RULES: dict[str, LayoutRule] = {
    "L01": LayoutRule("fault", "Move it inward, or take a larger frame.", FITS),
    "L02": LayoutRule("fault", "Move it wholly onto one tier.", FITS),
    "L03": LayoutRule("fault", "Move one of the two.", FITS),
    "L04": LayoutRule("fault", "Move it off the area that is kept free.", FITS),
    "L05": LayoutRule("fault", "Move one of the two, turn the pedal, or take a flatter plug.", FITS),
    "L06": LayoutRule("fault", "Move or turn the pedal, or take a flatter plug.", FITS),
    "L07": LayoutRule("fault", "Move one of the two pedals along the side, or take flatter plugs.", FITS),
    "L08": LayoutRule("fault", "Move the pedal inward, turn it, or take a flatter plug.", FITS),
    "L09": LayoutRule("fault", "Move the treadle to the front edge, so that the heel finds it.", TRADE),
    "L10": LayoutRule("fault", "Clear the strip between the treadle and the front edge.", TRADE),
    "L11": LayoutRule("fault", "Move one of the two pedals, or stagger them.", TRADE),
    "L12": LayoutRule("caution", "Place the two side by side, or accept it with the player.", TRADE),
    "L13": LayoutRule("fault", "Move it to a lower tier, or take a deeper lid.", FITS),
    "L14": LayoutRule("advice", "Leave 10 mm, so that the foam presses on bodies and not on knobs.", TRADE),
    "L15": LayoutRule("fault", "Move the supply to where there is more height, or raise the frame.", FITS),
    "L16": LayoutRule("fault", "Move one of the two supplies.", FITS),
    "L17": LayoutRule("caution", "Move the pedal in depth, or put a plate under it.", TRADE),
    "L18": LayoutRule("advice", "Move it to the front, or accept it with the player.", TRADE),
    "L19": LayoutRule("advice", "Leave room for the next pedal, or take a larger frame.", TRADE),
    "L20": LayoutRule("advice", "Move the heavy things towards the middle or the carrying edge.", TRADE),
    "L21": LayoutRule("unknown", "Place the pedals on the frame.", FITS),
    "L22": LayoutRule("unknown", "Record where the supply is, or measure its width and depth.", FITS),
    "L23": LayoutRule("unknown", "Measure on which side and how far along the jacks sit.", FITS),
    "L24": LayoutRule("unknown", "Choose the plug types.", FITS),
    "L25": LayoutRule("unknown", "Measure the plug mated: how far it stands out, and how wide it is.", FITS),
    "L26": LayoutRule("unknown", "Measure the height over the highest knob.", FITS),
    "L27": LayoutRule("unknown", "Measure from the frame's top to the foam of the closed lid.", FITS),
    "L28": LayoutRule("unknown", "Measure the free height under the frame and the supply's height.", FITS),
    "L29": LayoutRule("unknown", "Record where the foot switches are in the pedal's box.", TRADE),
    "L30": LayoutRule("unknown", "Record whether it is a treadle.", TRADE),
    "L31": LayoutRule("unknown", "Record from where to where in depth the rails carry pedals.", TRADE),
    "L32": LayoutRule("caution", "Move one of the two in depth, or raise the rear one.", TRADE),
    "L33": LayoutRule("caution", "Raise the rear tier, or put a lower pedal in front.", TRADE),
    "L34": LayoutRule("unknown", "Measure the height over the highest knob.", TRADE),
    "L35": LayoutRule("caution", "Move what is there, or the treadle.", TRADE),
    "L36": LayoutRule("caution", "Use another jack, or turn the treadle's lead away from the heel.", TRADE),
    "L37": LayoutRule("caution", "Move the treadle in depth, or put a plate under it.", TRADE),
    "L38": LayoutRule("caution", "Park it with the toe down, or take a deeper lid.", TRADE),
    "L39": LayoutRule("advice", "Leave 10 mm, or park it with the toe down.", TRADE),
    "L40": LayoutRule("unknown", "Measure the treadle with its toe up, as it is parked.", TRADE),
    "L41": LayoutRule("caution", "Move or turn the supply, so that its DC plugs go in.", TRADE),
    "L42": LayoutRule(
        "caution",
        "Move or turn one of the two, so that the mains plug goes in and comes out by hand.",
        MEMORY,
    ),
    "L43": LayoutRule("unknown", "Look on which side of the box they are.", TRADE),
    "L44": LayoutRule("advice", "Move it to where there is more height, or raise the frame.", TRADE),
    "L45": LayoutRule("caution", "Move one of the two, and listen with the wah on.", TRADE),
    "L46": LayoutRule("caution", "Move one of the two, or bring the antenna out on a cable.", TRADE),
    "L47": LayoutRule("unknown", "Look whether the supply is linear or switch-mode.", TRADE),
    "L48": LayoutRule("fault", "Move the supply clear of the frame's own parts.", FITS),
}
"""L01 outside the frame, L02 tier, L03 bodies, L04 body and keep-out, L05 plug and body, L06 plug and
keep-out, L07 two plugs, L08 plug and edge, L09 treadle's distance, L10 before a treadle, L11 switches,
L12 stepped on together, L13 lid, L14 lid's margin, L15 height under the frame,
L16 supplies under it, L17 rails, L18 reach, L19 spare, L20 balance; L21 to L31 what is not recorded;
L32 rear switch and front knobs, L33 front knobs and rear tier, L34 their heights, L35 a treadle's ends,
L36 its heel side, L37 its toe switch, L38 its toe and the lid, L39 with margin, L40 its toe's height,
L41 a supply's DC plugs, L42 its mains plug, L43 on which side they are, L44 air over it,
L45 wah and supply, L46 receivers, L47 kind of supply, L48 supply and a part of the frame under its top."""

TREADLE_EDGE_MM = 20
"""Board-file format: a treadle's front edge is at most this far from the frame's."""

SAME_HEIGHT_MM = 15
"""Board-file format: jacks whose recorded heights differ by this or more do not collide."""

TOGETHER_DEPTH_MM = 20
"""Board-file format: switches stepped on together differ at most this much in depth."""

LID_MARGIN_MM = 10
"""Common practice: free height over the highest knob."""

KNOB_CLEAR_MM = 25
KNOB_RISE_MM = 40
"""Common practice: how far a rear foot switch clears the knobs in front in plan, or how much higher it is."""

DECK_CLEAR_MM = 10
"""Common practice: the knobs in front end this far below the top of a pedal on a higher tier."""

ROW_GAP_MM = 40
"""Common practice: rows stand 25 to 40 mm apart, so what is further off is not in the way of the foot."""

HEEL_CLEAR_MM = 15
TOE_CLEAR_MM = 20
"""Common practice: what a treadle's stroke needs at its two ends."""

DC_PLUG_MM = 15
"""Common practice: room on the outlet side of a supply under the frame."""

MAINS_PLUG_MM = {"C14": 60, "C6": 50, "C8": 45, "captive": 25}
"""By inlet: how far the mated connector and the bend of its cord stand out; from memory."""

VENT_AIR_MM = 10
"""Common practice: air over a supply's vents."""

WAH_FROM_LINEAR_MM = 200
RECEIVER_FROM_SUPPLY_MM = 100
RECEIVERS_APART_MM = 300
"""Common practice: a coil from a mains transformer, an antenna from a switching supply and from another."""

RAIL_HOLD_MM = 25
RAILS_HOLDING = 2
"""Common practice: a pedal bears on two rails with this much each."""

BALANCE_PERCENT = 10
"""Common practice: the centre of mass lies within this part of the width from the middle."""

TREADLE_KINDS = ("wah", "volume", "expression")
"""Kinds of which most are treadles, so that it matters whether this one is."""


def layout_finding(
    rule: str, subjects: tuple[str, ...], message: str, cure: str | None = None, severity: str | None = None
) -> Finding:
    row = LAYOUT_RULES[rule]
    return Finding(rule, severity or row.severity, subjects, message, cure or row.cure, row.basis)
