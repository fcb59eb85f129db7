"""The friendly half of every invariant of gear: the same refusals that the constraints stand for."""

import re
from collections.abc import Iterable
from decimal import Decimal
from itertools import pairwise

from boardshop.core import plan as core
from boardshop.core.power.wire import awg_area_mm2
from boardshop.gear import errors
from boardshop.gear.records import DrawerRecord, FrameRecord, PedalRecord, SupplyRecord, UnitRecord

SAME_GAUGE = 0.05
"""So far apart, an area and a gauge are the same wire rounded: AWG 20 has 0.518 mm² and is sold as 0.5."""

ONE_WORD = re.compile(r"[^.\s]+")


def check_pedal(record: PedalRecord) -> None:
    """Raises the first refusal that this data sheet meets."""
    _check_names(record.name, [jack.name for jack in record.jacks], "jacks")
    _check_names(record.name, [jack.name for jack in record.power], "power")
    for jack in record.jacks:
        side = side_length(record, jack.side)
        if side is not None and jack.offset is not None and jack.offset > side:
            raise errors.JackBeyondSide(name=record.name, jack=jack.name, offset=jack.offset, side=side)
    for at in record.switches:
        if at.x > record.width or at.y > record.depth:
            raise errors.SwitchOutsideBox(
                name=record.name, x=at.x, y=at.y, width=record.width, depth=record.depth
            )
    if any(least_above_most(jack) for jack in record.power):
        raise errors.PowerRange(name=record.name)


def check_supply(record: SupplyRecord) -> None:
    for lead in record.leads:
        check_gauges(lead)
    names = [outlet.name for outlet in record.outlets]
    if any(not ONE_WORD.fullmatch(name) for name in names):
        raise errors.OutletNameNotOneWord(name=record.name)
    if twice(names):
        raise errors.OutletNameTwice(name=record.name)
    if any(setting.min_mv > setting.max_mv for outlet in record.outlets for setting in outlet.settings):
        raise errors.OutletRange(name=record.name)
    low, high = record.mains_min_mv, record.mains_max_mv
    if low is not None and high is not None and low > high:
        raise errors.MainsRange(name=record.name)


def check_frame(record: FrameRecord) -> None:
    bands: list[core.Rail | core.Tier] = [*record.rails, *record.tiers]
    for band in bands:
        if not 0 <= band.from_y < band.to_y <= record.depth:
            raise errors.BandWrong(
                field="rails" if isinstance(band, core.Rail) else "tiers",
                name=record.name,
                start=band.from_y,
                end=band.to_y,
                depth=record.depth,
            )
    tiers = sorted(record.tiers, key=lambda tier: tier.from_y)
    for lower, upper in pairwise(tiers):
        if upper.from_y < lower.to_y:
            raise errors.TiersOverlap(name=record.name, at=upper.from_y)
    for box in record.keepouts:
        if box.x + box.width > record.width or box.y + box.depth > record.depth:
            raise errors.KeepoutOutside(
                name=record.name, x=box.x, y=box.y, width=record.width, depth=record.depth
            )
    for part in record.members:
        if part.x + part.width > record.width or part.y + part.depth > record.depth:
            raise errors.MemberOutside(
                name=record.name, x=part.x, y=part.y, width=record.width, depth=record.depth
            )
    _check_pairs(record)


def check_gauges(lead: core.SupplyLead | DrawerRecord) -> None:
    """Raises GaugesDiffer where an area and a gauge cannot both be the wire's."""
    if lead.awg is not None and lead.mm2 is not None and not is_one_gauge(lead.awg, lead.mm2):
        area = f"{awg_area_mm2(lead.awg):.3g}"
        raise errors.GaugesDiffer(awg=lead.awg, area=area, mm2=f"{Decimal(str(lead.mm2)).normalize():f}")


def is_one_gauge(awg: int, mm2: float | Decimal) -> bool:
    """Whether both can mean the same wire."""
    return abs(float(mm2) / awg_area_mm2(awg) - 1) <= SAME_GAUGE


def check_unit(record: UnitRecord) -> None:
    if twice([draw.jack for draw in record.draws]):
        raise errors.DrawTwice(name=str(record))


def twice(names: Iterable[str]) -> bool:
    """Whether two of the names are the same but for capitals."""
    upper = [name.upper() for name in names]
    return len(set(upper)) < len(upper)


def least_above_most(jack: core.PowerJack) -> bool:
    return jack.min is not None and jack.max is not None and jack.min > jack.max


def side_length(record: PedalRecord, side: str | None) -> int | None:
    """How long that side of the unturned box is; None when no side is known."""
    return {"front": record.width, "rear": record.width, "left": record.depth, "right": record.depth}.get(
        side or ""
    )


def _check_names(owner: str, names: list[str], field: str) -> None:
    if any(not ONE_WORD.fullmatch(name) for name in names):
        raise errors.JackNameNotOneWord(field=field, name=owner)
    if twice(names):
        raise errors.JackNameTwice(field=field, name=owner)


def _check_pairs(record: FrameRecord) -> None:
    for pair in (("under_front", "under_rear"), ("entry_x", "entry_y"), ("exit_x", "exit_y")):
        known = [getattr(record, field) is not None for field in pair]
        if any(known) and not all(known):
            raise errors.HalfRecorded(field=pair[known.index(False)], name=record.name)
