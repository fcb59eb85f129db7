"""The instruments, amps and computers at a board's ends, as the core reads them."""

from boardshop.boards.plan.stored import Row
from boardshop.core import plan as core
from boardshop.gear.sheets import as_float


def source_value(row: Row) -> core.Source:
    pickup = core.Pickup(row.pickup_r, as_float(row.pickup_l), row.pickup_c)
    return core.Source(
        ref=row.ref,
        pickup=None if pickup == core.Pickup() else pickup,
        volume_ohm=row.volume_ohm,
        tone_ohm=row.tone_ohm,
        tone_nf=as_float(row.tone_nf),
        output_ohm=row.output_ohm,
    )


def amp_value(row: Row) -> core.Amp:
    jacks = _end_jacks(row.jacks)
    return core.Amp(
        ref=row.ref,
        input_ohm=row.input_ohm,
        input_pf=row.input_pf,
        protection_class=row.protection_class,
        earthed=row.earthed,
        speaker=row.speaker or None,
        jacks=jacks or core.Amp(row.ref).jacks,
    )


def computer_value(row: Row) -> core.Computer:
    return core.Computer(row.ref, row.earthed, _end_jacks(row.jacks))


def _end_jacks(rows: list[dict[str, str]]) -> tuple[core.EndJack, ...]:
    return tuple(core.EndJack(row["name"], row["role"], row.get("level")) for row in rows)
