"""`{% load stage_words %}`: what a pedal wants and gets, in words that cannot be misread."""

from django import template
from django.utils.translation import gettext

from boardshop.core.trace import Given, Supplied
from boardshop.crew.models import Shop
from boardshop.files.models import Attachment
from boardshop.gear.templatetags.lengths import mm, volts

register = template.Library()


@register.filter
def of_ref(photos: dict[str, list[Attachment]], ref: str) -> list[Attachment]:
    """The photos of the thing of that ref."""
    return photos.get(ref.casefold(), [])


@register.filter
def given(supplied: Supplied) -> str:
    """What each outlet gives: `S1.5 · 9 V DC, centre-negative`; never silent about what is unknown.

    Of outlets in series the sum too: `..., 18 V together`.
    """
    each = " + ".join(f"{tap(one)} {kind_of_current(one)}" for one in supplied.given)
    return f"{each}, {together(supplied)}" if supplied.total_mv is not None else each


@register.filter
def together(supplied: Supplied) -> str:
    """`18 V together` of outlets in series; blank where there is no such sum or it is not known."""
    if supplied.total_mv is None:
        return ""
    return gettext("%(sum)s together") % {"sum": volts(supplied.total_mv)}


@register.filter
def tap(one: Given) -> str:
    """The outlet and the voltage set on it: `S1.5 · 9 V`."""
    return f"{one.outlet} · {_voltage(one.setting_mv)}"


@register.filter
def kind_of_current(one: Given) -> str:
    """`DC, centre-negative` as it leaves the outlet, before any adapter."""
    current = one.current.upper() if one.current else gettext("DC or AC not recorded")
    return f"{current}, {_polarity(one.current, one.polarity)}"


@register.filter
def wanted(supplied: Supplied) -> str:
    """Voltage, kind of current, polarity, ground pole and draw: `9 V, DC, centre-negative, ...`."""
    current = supplied.current.upper() if supplied.current else gettext("DC or AC not recorded")
    polarity = _polarity(supplied.current, supplied.polarity)
    return ", ".join([_voltage(supplied.nominal_mv), current, polarity, _ground(supplied), _draw(supplied)])


@register.filter
def lead_words(supplied: Supplied, shop: Shop | str) -> str:
    """What a bench needs to make the lead: `500 mm, AWG 24, barrel 5.5/2.1`, mm² where recorded."""
    lead = supplied.lead
    if lead is None:
        return gettext("not recorded")
    length = gettext("length not recorded") if lead.length is None else mm(lead.length, shop)
    awg = None if lead.awg is None else f"AWG {lead.awg}"
    area = None if lead.mm2 is None else f"{lead.mm2:g} mm²"
    gauge = ", ".join(one for one in (awg, area) if one) or gettext("gauge not recorded")
    return ", ".join([length, gauge, lead.connector or gettext("connector not recorded")])


def _voltage(mv: int | None) -> str:
    return gettext("voltage not recorded") if mv is None else volts(mv)


def _polarity(current: str | None, polarity: str | None) -> str:
    if current == "ac":
        return gettext("no polarity")
    return polarity or gettext("polarity not recorded")


def _ground(supplied: Supplied) -> str:
    if not supplied.ground_pole:
        return gettext("ground pole not recorded")
    return gettext("%(pole)s ground") % {"pole": supplied.ground_pole}


def _draw(supplied: Supplied) -> str:
    if supplied.draw_ma is None:
        return gettext("draw not recorded")
    source = gettext("measured") if supplied.is_measured else gettext("rated")
    return f"{supplied.draw_ma} mA {source}"
