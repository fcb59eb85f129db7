"""Figures with their units, and needs in words, as the pages print them; unknown says so."""

from collections.abc import Iterable
from datetime import date

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from boardshop.core.plan import Mains, Outlet, PowerJack


def say_volts(millivolts: int | None) -> str:
    """`9 V`, `9.6 V`; no more digits than there are."""
    if millivolts is None:
        return _("voltage unknown")
    return f"{millivolts / 1000:.3f}".rstrip("0").rstrip(".") + " V"


def say_ma(milliamps: int | None) -> str:
    return _("current unknown") if milliamps is None else f"{milliamps} mA"


def say_need(jack: PowerJack) -> str:
    """`9 V DC, centre-negative, barrel 5.5/2.1`."""
    kind = jack.current.upper() if jack.current else _("AC or DC unknown")
    parts = [f"{say_volts(jack.nominal)} {kind}"]
    if jack.current != "ac":
        parts.append(jack.polarity or _("polarity unknown"))
    if jack.connector:
        parts.append(jack.connector)
    return ", ".join(parts)


def say_load(jack: PowerJack) -> str:
    """The draw that is counted: `measured 42 mA`, else `rated 40 mA`."""
    if jack.measured is not None:
        return _("measured %s") % say_ma(jack.measured)
    return _("draw not recorded") if jack.rated is None else _("rated %s") % say_ma(jack.rated)


def say_draw(jack: PowerJack, on: date | None = None, by: str = "") -> str:
    """What is counted, who measured it and when, and what the label says beside it.

    `measured 42 mA on 3 March 2026 by crew, rated 40 mA`.
    """
    said = say_load(jack)
    if jack.measured is None:
        return said
    if on is not None:
        said = _("%(draw)s on %(date)s") % {"draw": said, "date": date_format(on)}
    if by:
        said = _("%(draw)s by %(person)s") % {"draw": said, "person": by}
    rated = _("rating not recorded") if jack.rated is None else _("rated %s") % say_ma(jack.rated)
    return f"{said}, {rated}"


def say_settings(outlet: Outlet) -> list[str]:
    """`9 V, 500 mA`, `6 V to 12 V, limit unknown`: each voltage with the limit that holds there."""
    limit_unknown = _("limit unknown")
    return [
        f"{_say_range(s.min_mv, s.max_mv)}, {limit_unknown if s.max_ma is None else say_ma(s.max_ma)}"
        for s in outlet.settings
    ]


def _say_range(low: int, high: int) -> str:
    if low == high:
        return say_volts(low)
    return _("%(low)s to %(high)s") % {"low": say_volts(low), "high": say_volts(high)}


def say_offer(outlet: Outlet) -> str:
    """`9 V or 12 V DC, centre-negative`, `9 to 18 V DC`."""
    kind = outlet.current.upper() if outlet.current else _("AC or DC unknown")
    settings = say_either(_say_range(s.min_mv, s.max_mv) for s in outlet.settings)
    parts = [f"{settings or _('voltage unknown')} {kind}"]
    if outlet.current != "ac":
        parts.append(outlet.polarity or _("polarity unknown"))
    return ", ".join(parts)


def say_either(words: Iterable[str]) -> str:
    """`a`, `a or b`, `a, b or c`."""
    listed = list(words)
    if len(listed) < 2:
        return "".join(listed)
    return _("%(first)s or %(last)s") % {"first": ", ".join(listed[:-1]), "last": listed[-1]}


def say_mains(mains: Mains | None) -> str:
    """`100 to 240 V, 50/60 Hz, inlet C8`; what nobody recorded says so."""
    if mains is None or mains.min is None or mains.max is None:
        return _("mains range not recorded, read its plate")
    hz = "/".join(str(one) for one in mains.hz) or _("not recorded")
    return _("%(low)g to %(high)g V, %(hz)s Hz, inlet %(inlet)s") % {
        "low": mains.min / 1000,
        "high": mains.max / 1000,
        "hz": hz,
        "inlet": mains.inlet or _("not recorded"),
    }
