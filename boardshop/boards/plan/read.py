"""`load_plan`: the one place where the rows of a board become the plan that the core computes from."""

from collections.abc import Iterable
from dataclasses import replace
from functools import lru_cache
from typing import Any

from boardshop.boards.models import Board
from boardshop.boards.plan.ends import amp_value, computer_value, source_value
from boardshop.boards.plan.frames import frame_value
from boardshop.boards.plan.stored import Row, parse_stored, read_stored, row_of
from boardshop.core import plan as core
from boardshop.core.defaults import fill_defaults, fill_frame
from boardshop.core.index import same_plan
from boardshop.core.vocabulary import MADE_TESTS
from boardshop.gear.sheets import (
    as_float,
    cable_type_value,
    drawer_value,
    pedal_sheet,
    plug_type_value,
    supply_sheet,
)

type TypeRefs = dict[int, str]
"""From the key of a cable or plug type to its ref in the plan."""


def load_plan(board: Board) -> core.BoardPlan:
    """The plan of the board's working copy, in one query."""
    return plan_from(read_stored(board))


def plan_at_start(board: Board) -> core.BoardPlan:
    """As `load_plan`, for the first look of an edit: no query, where the edit has read the plan already.

    Asked a second time it reads, since the edit may have changed something meanwhile.
    """
    plan, board.plan_before = board.plan_before, None
    return load_plan(board) if plan is None else plan


@lru_cache(maxsize=32)
def plan_from(text: str) -> core.BoardPlan:
    """The plan of what `read_stored` read, kept by that text: most edits start where the last one ended."""
    stored = parse_stored(text)
    head, pieces = stored.one("board"), stored.all("pieces")
    pedals = tuple(_pedal(row) for row in stored.texts("pedals"))
    supplies = tuple(_supply(row) for row in stored.texts("supplies"))
    sources = tuple(source_value(row) for row in stored.all("sources"))
    amps = tuple(amp_value(row) for row in stored.all("amps"))
    computers = tuple(computer_value(row) for row in stored.all("computers"))
    links = stored.all("links")
    parts: tuple[Any, ...] = (*pedals, *supplies, *sources, *amps, *computers, *links, *pieces)
    taken = [part.ref for part in parts]
    cables = _number_types("C", stored.all("cables"), taken)
    plugs = _number_types("J", stored.all("plugs"), taken)
    cable_refs, plug_refs = _refs(cables), _refs(plugs)
    plan = core.BoardPlan(
        frame=_frame(stored.text("frame")),
        name=head.name,
        note=head.note,
        pedals=pedals,
        sources=sources,
        amps=amps,
        computers=computers,
        cables=tuple(cable_type_value(cable, ref) for ref, cable in cables.items()),
        plugs=tuple(plug_type_value(plug, ref) for ref, plug in plugs.items()),
        links=tuple(_link(row, cable_refs, plug_refs) for row in links),
        supplies=supplies,
        feeds=tuple(_feed(row, plug_refs) for row in stored.all("feeds")),
        stock=tuple(_stock(stored.all("stock"), cable_refs)),
        drawer=tuple(drawer_value(row) for row in stored.all("drawer")),
        pieces=tuple(core.Piece(row.ref, cable_refs[row.cable_id], row.cut_mm) for row in pieces),
        scenes=tuple(core.Scene(row.name, tuple(row.engaged)) for row in stored.all("scenes")),
        venue=_venue(head),
        accepted=tuple(_accepted(row) for row in stored.all("accepted")),
        rules=rules_value(head.rules),
        incomplete=tuple(_incomplete(entry) for entry in head.incomplete),
    )
    return same_plan(fill_defaults(plan))


def rules_value(overrides: dict[str, Any]) -> core.Rules:
    """The shop's limits with what this board overrides."""
    values: dict[str, Any] = {n: tuple(v) if isinstance(v, list) else v for n, v in overrides.items()}
    return replace(core.Rules(), **values)


def _number_types(letter: str, types: Iterable[Row], taken: list[str]) -> dict[str, Row]:
    """A ref for each cable or plug type of the document, by name, around refs that the board uses."""
    used = {ref.casefold() for ref in taken}
    numbers = (f"{letter}{n}" for n in range(1, 1_000_000))
    free = (ref for ref in numbers if ref.casefold() not in used)
    return dict(zip(free, sorted(types, key=lambda one: (one.name, one.id)), strict=False))


def _refs(types: dict[str, Row]) -> TypeRefs:
    return {one.id: ref for ref, one in types.items()}


@lru_cache(maxsize=256)
def _frame(text: str) -> core.Frame:
    return fill_frame(frame_value(row_of(text)))


@lru_cache(maxsize=1024)
def _pedal(text: str) -> core.Pedal:
    """Kept by all that is stored of it: after an edit most pedals are the very ones from before it."""
    row = row_of(text)
    sheet = pedal_sheet(Row(**row.model), row, row.ref)
    draws = {draw["jack"].casefold(): draw["measured"] for draw in row.draw_rows}
    return replace(
        sheet,
        role=row.role or sheet.role,
        unit=row.unit["serial"] or None if row.unit else None,
        on=row.on,
        use=row.use,
        together=tuple(row.together_refs),
        turns=sheet.turns if row.turns is None else tuple(row.turns),
        place=None if row.x is None else core.Place(row.x, row.y, row.turn),
        pinned=row.pinned,
        power=tuple(replace(jack, measured=draws.get(jack.name.casefold())) for jack in sheet.power),
        settings=row.settings or None,
    )


@lru_cache(maxsize=256)
def _supply(text: str) -> core.Supply:
    row = row_of(text)
    place = None if row.x is None else core.SupplyPlace(row.x, row.y, row.turn, row.under)
    return replace(supply_sheet(Row(**row.model), row, row.ref), place=place)


def _link(row: Row, cables: TypeRefs, plugs: TypeRefs) -> core.Link:
    return core.Link(
        ref=row.ref,
        source=row.source,
        target=row.target,
        cable=cables.get(row.cable_id),
        plug_from=plugs.get(row.plug_from_id),
        plug_to=plugs.get(row.plug_to_id),
        route=row.route,
        length=row.length,
        made=row.made,
        carries=row.carries,
        screen=row.screen,
        made_id=row.made_code,
        made_test=row.made_verdict if row.made_verdict in MADE_TESTS else None,
    )


def _feed(row: Row, plugs: TypeRefs) -> core.Feed:
    tails = tuple(core.Tail(j["tail_length"], j["tail_mm2"], j["tail_awg"]) for j in row.jack_rows)
    return core.Feed(
        outlets=tuple(o["outlet"] for o in row.outlet_rows),
        jacks=tuple(j["jack"] for j in row.jack_rows),
        settings=tuple(o["setting_mv"] for o in row.outlet_rows),
        adapters=tuple(row.adapters),
        pinned=row.pinned,
        lead=_lead(Row(**row.lead), tails, plugs) if row.lead else None,
    )


def _lead(row: Row, tails: tuple[core.Tail, ...], plugs: TypeRefs) -> core.DcLead:
    return core.DcLead(
        length=row.length,
        mm2=as_float(row.mm2),
        awg=row.awg,
        connector=row.connector or None,
        plug=plugs.get(row.plug_id),
        tails=() if all(tail == core.Tail() for tail in tails) else tails,
    )


def _stock(rows: Iterable[Row], cables: TypeRefs) -> Iterable[core.StockLength]:
    """What the shop has of the cable types on this board."""
    for row in rows:
        if row.cable_id in cables:
            yield core.StockLength(cables[row.cable_id], row.length, row.count, row.kind)


def _venue(head: Row) -> core.Venue | None:
    venue = core.Venue(head.venue_mv, head.venue_hz, head.venue_plug or None)
    return None if venue == core.Venue() else venue


def _accepted(row: Row) -> core.Accepted:
    return core.Accepted(
        rule=row.rule, subjects=tuple(row.subjects), why=row.why, by=row.by or None, on=row.on
    )


def _incomplete(entry: dict[str, Any]) -> core.Incomplete:
    return core.Incomplete(entry["where"], tuple(entry["lacks"]), entry["text"])
