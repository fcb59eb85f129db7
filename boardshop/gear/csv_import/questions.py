"""What a dry run asks about: values that can be right but seldom are, and what a new pedal lacks.

The bounds are common practice.
"""

from collections.abc import Mapping
from typing import Any

from django.utils.translation import gettext as _

from boardshop.core import plan as core
from boardshop.gear.amounts import is_usual_capacitance
from boardshop.gear.records import CableRecord, GearRecord, PedalRecord

USUAL_PEDAL_MM = (30, 600)

type Written = Mapping[str, Any]
"""What the line says, by column name; a column that the file does not have is not in it."""


def questions_about(record: GearRecord, written: Written, is_new: bool) -> list[str]:
    if isinstance(record, CableRecord):
        return _about_cable(record)
    if isinstance(record, PedalRecord):
        return [*_about_size(record), *_about_jacks(record, written, is_new), *_about_power(record)]
    return []


def _about_cable(record: CableRecord) -> list[str]:
    if record.pf_per_m is None or is_usual_capacitance(record.pf_per_m):
        return []
    words = _("%(pf)s pF/m is unusual, instrument cable has 20 to 400; was the figure per foot?")
    return [words % {"pf": record.pf_per_m}]


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
