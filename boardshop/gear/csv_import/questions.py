"""What a dry run asks about: values that can be right but seldom are, and what a new pedal lacks.

The bounds are common practice.
"""

from collections.abc import Iterable, Mapping
from typing import Any

from django.utils.translation import gettext as _

from boardshop.core import plan as core
from boardshop.core.lengths import show_metres
from boardshop.gear.amounts import ask_about_capacitance, is_usual_capacitance, volts_text
from boardshop.gear.forms.asking_back import LONGEST_LEAD_MM, LONGEST_STOCK_MM
from boardshop.gear.records import (
    CableRecord,
    GearRecord,
    PedalRecord,
    ReadyMadeRecord,
    StockRecord,
    SupplyRecord,
    UnitRecord,
)

USUAL_PEDAL_MM = (30, 600)
USUAL_MOST_MA = 3000

type Written = Mapping[str, Any]
"""What the line says, by column name; a column that the file does not have is not in it."""


def questions_about(record: GearRecord, written: Written, is_new: bool) -> list[str]:
    if isinstance(record, CableRecord):
        return _about_cable(record)
    if isinstance(record, PedalRecord):
        return [
            *_about_size(record),
            *_about_jacks(record, written, is_new),
            *_about_power(record),
            *_about_range(record, written),
            *_about_currents((jack.name, ma) for jack in record.power for ma in (jack.rated, jack.peak)),
        ]
    if isinstance(record, SupplyRecord):
        return _about_currents(limit for outlet in record.outlets for limit in _limits_of(outlet))
    if isinstance(record, StockRecord):
        return _about_length(record.length, LONGEST_STOCK_MM)
    if isinstance(record, ReadyMadeRecord):
        return _about_length(record.length, LONGEST_LEAD_MM)
    if isinstance(record, UnitRecord):
        return _about_currents((draw.jack, draw.measured) for draw in record.draws)
    return []


def _limits_of(outlet: core.Outlet) -> list[tuple[str, int | None]]:
    limits = [setting.max_ma for setting in outlet.settings]
    return [(outlet.name, ma) for ma in (*limits, outlet.group_max_ma)]


def _about_currents(currents: Iterable[tuple[str, int | None]]) -> list[str]:
    """What a slipped unit looks like: nothing at all, or more than a board needs."""
    much = _("%(jack)s: %(ma)s mA is unusually much; is the unit right?")
    none = _("%(jack)s: 0 mA says that it needs or gives nothing; leave it blank if nobody recorded it.")
    return [
        (much if ma else none) % {"jack": name, "ma": ma}
        for name, ma in dict.fromkeys(currents)
        if ma is not None and (ma == 0 or ma > USUAL_MOST_MA)
    ]


def _about_range(record: PedalRecord, written: Written) -> list[str]:
    """A range in the column of the label's volts, unless a column of its own gives the least."""
    said = written.get("power.nominal") or {}
    if "max" not in said or "min" in said or len(record.power) != 1 or record.power[0].min is not None:
        return []
    low, high = volts_text(said["nominal"]), volts_text(said["max"])
    words = _("%(low)s-%(high)s V read as label %(low)s V, most %(high)s V; least not recorded.")
    return [words % {"low": low, "high": high}]


def _about_cable(record: CableRecord) -> list[str]:
    if record.pf_per_m is None or is_usual_capacitance(record.pf_per_m):
        return []
    kept = _("Correct it in the file, or bring it in as it is: that keeps the value.")
    return [f"{ask_about_capacitance(record.pf_per_m)} {kept}"]


def _about_length(mm: int, most: int) -> list[str]:
    words = _("%(metres)s is unusually long; is the unit right?")
    return [words % {"metres": show_metres(mm)}] if mm > most else []


def _about_size(record: PedalRecord) -> list[str]:
    least, most = USUAL_PEDAL_MM
    words = _("%(mm)s mm is unusual for a pedal; is the unit right?")
    return [words % {"mm": mm} for mm in (record.width, record.depth) if not least <= mm <= most]


def _about_jacks(record: PedalRecord, written: Written, is_new: bool) -> list[str]:
    if not record.jacks:
        return [_("It has no jacks, so nothing can be linked to it; write them in the column jacks.")]
    if is_new and written.get("jacks") is None:
        return [_("No jacks are written, so it gets IN and OUT; write the word none if it has none.")]
    return []


def _about_power(record: PedalRecord) -> list[str]:
    if not record.power:
        return [_("It has no power jack, so nothing can feed it; is it passive?")]
    if record.power == (core.PowerJack(),):
        return [
            _(
                "Nothing is written about its power, so it gets one jack DC of which nothing is known; "
                "write the word none in power jacks if it needs none."
            )
        ]
    return []
