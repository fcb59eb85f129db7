"""Figures of tone in words, the same on the page, in the what-if and on paper."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from django.utils.text import capfirst
from django.utils.translation import gettext as _

from boardshop.core.plan import Pickup, Source
from boardshop.core.printing import round_to
from boardshop.core.tone.comparing import COMPARED_HZ, NO_CABLE, REFERENCE_PF, Against, DrawnCurve
from boardshop.core.tone.ohms import say_ohm
from boardshop.core.tone.rules import BANDS, band_of
from boardshop.core.tone.segments import INPUT, LEAD, PATCH, UNDECIDED, WIRING, Addition, Segment
from boardshop.core.tone.states import ALL_BYPASSED, AS_USED, NamedState, ToneState, is_active


def say_pickup(source: Source) -> str:
    """With which values of the instrument its figures count; what is not recorded is called unknown."""
    if is_active(source):
        return _("Output %(ohm)s, as recorded.") % {"ohm": say_ohm(source.output_ohm or 0)}
    pickup = source.pickup or Pickup()
    unknown = _("unknown")
    values = {
        "r": unknown if pickup.r is None else say_ohm(pickup.r),
        "l": unknown if pickup.l is None else f"{pickup.l:g} H",
        "c": unknown if pickup.c is None else f"{pickup.c} pF",
        "volume": unknown if source.volume_ohm is None else say_ohm(source.volume_ohm),
        "tone": unknown if source.tone_ohm is None else say_ohm(source.tone_ohm),
        "capacitor": unknown if source.tone_nf is None else f"{source.tone_nf:g} nF",
    }
    said = _(
        "Counted with, as recorded: pickup %(r)s, %(l)s, %(c)s; volume pot %(volume)s; tone pot %(tone)s "
        "with %(capacitor)s."
    )
    is_left_out = source.volume_ohm is None or source.tone_ohm is None or source.tone_nf is None
    words = said % values
    return words + " " + _("What is unknown of its pots counts as not there.") if is_left_out else words


def say_state(name: str, is_scene: bool) -> str:
    if is_scene:
        return _("scene %(name)s") % {"name": name}
    return {ALL_BYPASSED: _("all bypassed"), AS_USED: _("as used")}[name]


def say_states(states: Iterable[NamedState]) -> str:
    """`All bypassed, as used, scene solo`."""
    return capfirst(", ".join(say_state(state.name, state.is_scene) for state in states))


def say_total(segment: Segment) -> str:
    """`948 pF`; what is known of it where a part is not."""
    if segment.pf is not None:
        return f"{segment.pf} pF"
    return _("unknown, at least %(pf)d pF") % {"pf": segment.known_pf}


def say_band(source: Source, segment: Segment) -> str:
    """What such a total comes to; blank for an active instrument, which it does not hold for."""
    if is_active(source):
        return ""
    return _("unknown") if segment.pf is None else band_of(segment.pf).words


def say_into(segment: Segment) -> str:
    return _("unknown") if segment.into_ohm is None else say_ohm(round(segment.into_ohm))


def say_hz(hz: float) -> str:
    """Whole Hz, from 10 kHz on tenths of a kHz."""
    return f"{hz:.0f} Hz" if hz < 10_000 else f"{hz / 1000:.1f} kHz"


def say_db(db: float) -> str:
    """`+0.3`, `−11.9`, `0.0`: tenths, always with its sign."""
    tenths = round_to(db, 1)
    sign = "+" if tenths > 0 else "−" if tenths < 0 else ""
    return f"{sign}{abs(tenths):.1f}"


def label_against() -> tuple[str, ...]:
    """What `say_against` lists, in words."""
    bare = [_("%(hz)d Hz against no cable") % {"hz": hz} for hz in COMPARED_HZ]
    usual = [_("%(hz)d Hz against %(pf)d pF") % {"hz": hz, "pf": REFERENCE_PF} for hz in COMPARED_HZ]
    return (*bare, *usual)


def say_against(against: Sequence[Against] | None) -> tuple[str, ...]:
    """Without cable at 3 and at 5 kHz, then against the reference; unknown where there is no response."""
    if against is None:
        return (_("unknown"),) * len(label_against())
    levels = [*(one.no_cable_db for one in against), *(one.reference_db for one in against)]
    return tuple(f"{say_db(db)} dB" for db in levels)


def list_bands() -> list[tuple[str, str]]:
    """The limits of each band in pF, and its words."""
    listed, least = [], 0
    for band in BANDS:
        said = {"least": least, "most": band.most_pf}
        if band.most_pf is None:
            limits = _("from %(least)d pF on") % said
        else:
            limits = _("%(least)d to %(most)d pF") % said
        listed.append((limits, band.words))
        least = (band.most_pf or 0) + 1
    return listed


def say_resonance(state: ToneState | None) -> str:
    if state is None or state.db_at is None:
        return _("unknown")
    return _("none") if state.resonance_hz is None else say_hz(state.resonance_hz)


def say_peak(state: ToneState | None) -> str:
    if state is None or state.db_at is None:
        return _("unknown")
    return _("none") if state.peak_db is None else f"{say_db(state.peak_db)} dB"


def say_curve(curve: DrawnCurve) -> str:
    """What a curve is of, its total and its load: nothing else tells two states apart."""
    into = say_ohm(round(curve.into_ohm))
    if curve.states:
        said = {"states": say_states(curve.states), "pf": curve.pf, "into": into}
        return _("%(states)s: %(pf)d pF into %(into)s") % said
    if curve.kind == NO_CABLE:
        return _("no cable at all, into %(into)s") % {"into": into}
    return _("for comparison %(pf)d pF, into %(into)s") % {"pf": REFERENCE_PF, "into": into}


def say_kind(one: Addition) -> str:
    return {
        LEAD: _("lead"),
        PATCH: _("patch"),
        WIRING: _("bypass wiring"),
        INPUT: _("input"),
        UNDECIDED: _("bypass not recorded"),
    }[one.kind]


def say_addition(one: Addition) -> str:
    if one.pf is not None:
        return f"{one.pf} pF"
    return _("unknown") if one.leaves_total_open else _("unknown, counts as nothing")
