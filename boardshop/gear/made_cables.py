"""Made cables as core's values."""

from datetime import date

from boardshop.core import plan as core
from boardshop.core.cables.limits import MadeAs
from boardshop.core.cables.retest import Retest, judge_retest
from boardshop.core.cables.spares import SpareCable
from boardshop.core.defaults import fill_cable
from boardshop.gear.models import MadeCable, PlugType
from boardshop.gear.sheets import cable_type_value, plug_type_value


def spare_value(cable: MadeCable) -> SpareCable:
    """Reads its cable type and both plugs: bring them with the row."""
    return SpareCable(
        code=cable.code,
        kind=cable.kind,
        length_mm=cable.length,
        cable=None if cable.cable is None else fill_cable(cable_type_value(cable.cable, "cable")),
        plug_a=_plug_value(cable.plug_a),
        plug_b=_plug_value(cable.plug_b),
        verdict=cable.verdict,
    )


def made_as(cable: MadeCable) -> MadeAs:
    """Reads its cable type."""
    return MadeAs(cable.kind, cable.length, cable.cable.pf_per_m if cable.cable else None)


def retest_of(
    cable: MadeCable, today: date, *, shows_since: int | None = None, lead_since: date | None = None
) -> Retest:
    """Reads both plugs."""
    return judge_retest(
        tested_on=cable.tested_on,
        fixings=[plug.fixing or None if plug else None for plug in (cable.plug_a, cable.plug_b)],
        today=today,
        shows_since=shows_since,
        lead_since=lead_since,
        has_failed=cable.verdict == "failed",
    )


def _plug_value(plug: PlugType | None) -> core.PlugType | None:
    return None if plug is None else plug_type_value(plug, plug.name)
