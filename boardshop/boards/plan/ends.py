"""The instruments, amps and computers at a board's ends, as the core reads them."""

from collections.abc import Iterable

from django.db.models import QuerySet

from boardshop.boards.models import Amp, Board, Computer, Item, Source
from boardshop.core import plan as core
from boardshop.gear.sheets import as_float

type Ends = tuple[tuple[core.Source, ...], tuple[core.Amp, ...], tuple[core.Computer, ...]]


def end_rows(board: Board) -> QuerySet[Item]:
    """Everything of the board that has a ref, with what it is if it is one of the three kinds."""
    return Item.objects.filter(board=board).select_related("source", "amp", "computer")


def read_ends(items: Iterable[Item]) -> Ends:
    """The three kinds among the items, each in its order."""
    sources: list[core.Source] = []
    amps: list[core.Amp] = []
    computers: list[core.Computer] = []
    for item in items:
        if hasattr(item, "source"):
            sources.append(_source(item.source))
        elif hasattr(item, "amp"):
            amps.append(_amp(item.amp))
        elif hasattr(item, "computer"):
            computers.append(_computer(item.computer))
    return tuple(sources), tuple(amps), tuple(computers)


def _source(row: Source) -> core.Source:
    pickup = core.Pickup(row.pickup_r, as_float(row.pickup_l), row.pickup_c)
    return core.Source(
        ref=row.ref,
        pickup=None if pickup == core.Pickup() else pickup,
        volume_ohm=row.volume_ohm,
        tone_ohm=row.tone_ohm,
        tone_nf=as_float(row.tone_nf),
        output_ohm=row.output_ohm,
    )


def _amp(row: Amp) -> core.Amp:
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


def _computer(row: Computer) -> core.Computer:
    return core.Computer(row.ref, row.earthed, _end_jacks(row.jacks))


def _end_jacks(rows: list[dict[str, str]]) -> tuple[core.EndJack, ...]:
    return tuple(core.EndJack(row["name"], row["role"], row.get("level")) for row in rows)
