"""`{% load stage_words %}`: what a pedal wants and gets, in words that cannot be misread."""

from django import template
from django.utils.translation import gettext

from boardshop.core.trace import Supplied
from boardshop.gear.templatetags.lengths import volts

register = template.Library()


@register.filter
def given(supplied: Supplied) -> str:
    """The outlets with the voltage set on each: `S1.5 at 9 V`; never silent about what is unknown."""
    pairs = zip(supplied.outlets, supplied.settings_mv, strict=True)
    words = [
        f"{name} · {volts(mv)}" if mv is not None else f"{name} · {gettext('voltage not recorded')}"
        for name, mv in pairs
    ]
    return " + ".join(words)


@register.filter
def wanted(supplied: Supplied) -> str:
    """Kind of current, plug polarity, ground pole and draw: `DC, centre-negative, negative ground`...."""
    current = supplied.current.upper() if supplied.current else gettext("DC or AC not recorded")
    return ", ".join([current, _polarity(supplied), _ground(supplied), _draw(supplied)])


def _polarity(supplied: Supplied) -> str:
    if supplied.current == "ac":
        return gettext("no polarity")
    return supplied.polarity or gettext("polarity not recorded")


def _ground(supplied: Supplied) -> str:
    if not supplied.ground_pole:
        return gettext("ground pole not recorded")
    return gettext("%(pole)s ground") % {"pole": supplied.ground_pole}


def _draw(supplied: Supplied) -> str:
    if supplied.draw_ma is None:
        return gettext("draw not recorded")
    source = gettext("measured") if supplied.is_measured else gettext("rated")
    return f"{supplied.draw_ma} mA {source}"
