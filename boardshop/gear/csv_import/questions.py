"""What a dry run asks about: values that can be right but seldom are; bounds are common practice."""

from django.utils.translation import gettext as _

from boardshop.gear.amounts import is_usual_capacitance
from boardshop.gear.records import CableRecord, GearRecord, PedalRecord

USUAL_PEDAL_MM = (30, 600)


def questions_about(record: GearRecord) -> list[str]:
    if isinstance(record, CableRecord):
        return _about_cable(record)
    if isinstance(record, PedalRecord):
        return _about_pedal(record)
    return []


def _about_cable(record: CableRecord) -> list[str]:
    if record.pf_per_m is None or is_usual_capacitance(record.pf_per_m):
        return []
    words = _("%(pf)s pF/m is unusual, instrument cable has 20 to 400; was the figure per foot?")
    return [words % {"pf": record.pf_per_m}]


def _about_pedal(record: PedalRecord) -> list[str]:
    least, most = USUAL_PEDAL_MM
    words = _("%(mm)s mm is unusual for a pedal; is the unit right?")
    return [words % {"mm": mm} for mm in (record.width, record.depth) if not least <= mm <= most]
