"""`load_plan`: the one place where the rows of a board become the plan that the core computes from."""

from collections.abc import Iterable
from dataclasses import replace
from functools import cache
from typing import Any

from django.contrib.postgres.expressions import ArraySubquery
from django.db.models import F, OuterRef, QuerySet

from boardshop.boards.models import (
    AcceptedFinding,
    Board,
    Feed,
    FeedJack,
    FeedOutlet,
    Item,
    Link,
    Piece,
    Placement,
    Scene,
    SupplyPlacement,
)
from boardshop.boards.plan.ends import end_rows, read_ends
from boardshop.boards.plan.frames import frame_value
from boardshop.core import plan as core
from boardshop.core.defaults import fill_defaults
from boardshop.core.index import same_plan
from boardshop.gear.models import CableStock, CableType, PlugType, UnitDraw
from boardshop.gear.sheets import (
    as_float,
    cable_type_value,
    outlet_rows,
    pedal_sheet,
    plug_type_value,
    rows_as_json,
    sheet_rows,
    supply_sheet,
)

type TypeRefs = dict[int, str]

CABLE_COLUMNS = ("name", "pf_per_m", "diameter", "min_bend", "cores", "price")


def load_plan(board: Board) -> core.BoardPlan:
    """The plan of the board's working copy, in 6 queries whatever the board's size."""
    head = _head(board)
    pedals = tuple(pedal_value(row) for row in placement_rows(board))
    supplies = tuple(_supply(row) for row in _supplies(board))
    sources, amps, computers = read_ends(end_rows(board))
    links, feeds, pieces = list(link_rows(board)), list(_feeds(board)), _pieces(head)
    refs = [part.ref for part in (*pedals, *supplies, *sources, *amps, *computers, *links, *pieces)]
    cables = _number_types("C", _cable_types(links, pieces), refs)
    plugs = _number_types("J", _plug_types(links, feeds), refs)
    plan = fill_defaults(
        core.BoardPlan(
            frame=frame_value(head.frame),
            name=head.name,
            note=head.note,
            pedals=pedals,
            sources=sources,
            amps=amps,
            computers=computers,
            cables=tuple(cable_type_value(cable, ref) for ref, cable in cables.items()),
            plugs=tuple(plug_type_value(plug, ref) for ref, plug in plugs.items()),
            links=tuple(link_value(row, _refs(cables), _refs(plugs)) for row in links),
            supplies=supplies,
            feeds=tuple(_feed(row, _refs(plugs)) for row in feeds),
            stock=tuple(_stock(head, _refs(cables))),
            pieces=tuple(core.Piece(p.ref, _refs(cables)[p.cable_id], p.cut_mm) for p in pieces),
            scenes=tuple(core.Scene(row["name"], tuple(row["on"])) for row in head.scene_rows),
            venue=_venue(head),
            accepted=tuple(_accepted(row) for row in head.accepted_rows),
            rules=rules_value(head.rules),
            incomplete=tuple(_incomplete(entry) for entry in head.incomplete),
        )
    )
    return same_plan(plan)


def load_signal(board: Board, items: Iterable[Item]) -> tuple[core.BoardPlan, list[Link]]:
    """Pedals, ends and links alone, for whoever asks only for the order, and the links' rows.

    Two queries; `items` are the board's `end_rows`.
    """
    pedals = tuple(pedal_value(row) for row in placement_rows(board))
    links = list(link_rows(board))
    sources, amps, computers = read_ends(items)
    plan = core.BoardPlan(
        frame=frame_value(board.frame),
        pedals=pedals,
        sources=sources,
        amps=amps,
        computers=computers,
        links=tuple(link_value(row, {}, {}) for row in links),
    )
    return fill_defaults(plan), links


def rules_value(overrides: dict[str, Any]) -> core.Rules:
    """The shop's limits with what this board overrides."""
    values: dict[str, Any] = {n: tuple(v) if isinstance(v, list) else v for n, v in overrides.items()}
    return replace(core.Rules(), **values)


def _head(board: Board) -> Any:
    """The board again, with its frame, scenes, reasons, pieces and the shop's stock, in one query."""
    return _heads().get(pk=board.pk)


@cache
def _heads() -> QuerySet[Any]:
    """Kept, as the other annotated sets here: resolving annotations costs more than the query itself."""
    engaged = Scene.pedals.through.objects.filter(scene=OuterRef("pk")).order_by("placement__position")
    scenes = rows_as_json(
        Scene.objects.filter(board=OuterRef("pk")),
        "name",
        on=ArraySubquery(engaged.values("placement__ref")),
    )
    accepted = AcceptedFinding.objects.filter(board=OuterRef("pk"))
    types = {f"cable__{name}": F(f"cable__{name}") for name in ("pk", *CABLE_COLUMNS)}
    rows = {
        "scene_rows": scenes,
        "accepted_rows": rows_as_json(accepted, "rule", "subjects", "why", "by", "on"),
        "piece_rows": rows_as_json(Piece.objects.filter(board=OuterRef("pk")), "ref", "cut_mm", **types),
        "stock_rows": rows_as_json(
            CableStock.objects.filter(shop=OuterRef("shop")), "cable_id", "length", "count", "kind"
        ),
    }
    return Board.objects.select_related("frame").annotate(**rows)


def placement_rows(board: Board) -> QuerySet[Any]:
    return _all_placements().filter(board=board)


@cache
def _all_placements() -> QuerySet[Any]:
    together = Placement.together.through.objects.filter(from_placement=OuterRef("pk"))
    return Placement.objects.select_related("model", "unit").annotate(
        **sheet_rows("model"),
        draw_rows=rows_as_json(UnitDraw.objects.filter(unit=OuterRef("unit")), "jack", "measured"),
        together_refs=ArraySubquery(together.order_by("to_placement__position").values("to_placement__ref")),
    )


def _supplies(board: Board) -> QuerySet[Any]:
    return _all_supplies().filter(board=board)


@cache
def _all_supplies() -> QuerySet[Any]:
    return SupplyPlacement.objects.select_related("model").annotate(**outlet_rows("model"))


def link_rows(board: Board) -> QuerySet[Any]:
    return Link.objects.filter(board=board).select_related(
        "from_item", "from_jack", "to_item", "to_jack", "cable", "plug_from", "plug_to"
    )


def _feeds(board: Board) -> QuerySet[Any]:
    return _all_feeds().filter(board=board)


@cache
def _all_feeds() -> QuerySet[Any]:
    outlets = FeedOutlet.objects.filter(feed=OuterRef("pk"))
    jacks = FeedJack.objects.filter(feed=OuterRef("pk"))
    return Feed.objects.select_related("lead__plug").annotate(
        outlet_rows=rows_as_json(outlets, "setting_mv", supply=F("supply__ref"), name=F("outlet__name")),
        jack_rows=rows_as_json(
            jacks, "tail_length", "tail_mm2", "tail_awg", pedal=F("pedal__ref"), name=F("jack__name")
        ),
    )


def _pieces(head: Any) -> list[Piece]:
    """The further pieces with their cable types, which came with the board."""
    pieces = []
    for row in head.piece_rows:
        columns = {name: row[f"cable__{name}"] for name in ("pk", *CABLE_COLUMNS)}
        pieces.append(Piece(ref=row["ref"], cut_mm=row["cut_mm"], cable=CableType(**columns)))
    return pieces


def _cable_types(links: list[Link], pieces: list[Piece]) -> list[CableType]:
    cables = [link.cable for link in links] + [piece.cable for piece in pieces]
    return [cable for cable in cables if cable is not None]


def _plug_types(links: list[Link], feeds: list[Feed]) -> list[PlugType]:
    plugs = [plug for link in links for plug in (link.plug_from, link.plug_to)]
    plugs += [feed.lead.plug for feed in feeds if hasattr(feed, "lead")]
    return [plug for plug in plugs if plug is not None]


def _number_types[T: CableType | PlugType](letter: str, types: Iterable[T], taken: list[str]) -> dict[str, T]:
    """A ref for each cable or plug type of the document, by name, around refs that the board uses."""
    used = {ref.casefold() for ref in taken}
    numbers = (f"{letter}{n}" for n in range(1, 1_000_000))
    free = (ref for ref in numbers if ref.casefold() not in used)
    by_key = {one.pk: one for one in types}
    return dict(zip(free, sorted(by_key.values(), key=lambda one: (one.name, one.pk)), strict=False))


def _refs(types: dict[str, Any]) -> TypeRefs:
    return {one.pk: ref for ref, one in types.items()}


def pedal_value(row: Any) -> core.Pedal:
    sheet = pedal_sheet(row.model, row, row.ref)
    draws = {draw["jack"].casefold(): draw["measured"] for draw in row.draw_rows}
    return replace(
        sheet,
        role=row.role or sheet.role,
        unit=row.unit.serial or None if row.unit else None,
        on=row.on,
        use=row.use,
        together=tuple(row.together_refs),
        turns=sheet.turns if row.turns is None else tuple(row.turns),
        place=None if row.x is None else core.Place(row.x, row.y, row.turn),
        pinned=row.pinned,
        power=tuple(replace(jack, measured=draws.get(jack.name.casefold())) for jack in sheet.power),
        settings=row.settings or None,
    )


def _supply(row: Any) -> core.Supply:
    place = None if row.x is None else core.SupplyPlace(row.x, row.y, row.turn, row.under)
    return replace(supply_sheet(row.model, row, row.ref), place=place)


def link_value(row: Any, cables: TypeRefs, plugs: TypeRefs) -> core.Link:
    return core.Link(
        ref=row.ref,
        source=f"{row.from_item.ref}.{row.from_jack or row.from_name}",
        target=f"{row.to_item.ref}.{row.to_jack or row.to_name}",
        cable=cables.get(row.cable_id),
        plug_from=plugs.get(row.plug_from_id),
        plug_to=plugs.get(row.plug_to_id),
        route=row.route,
        length=row.length,
        made=row.made,
        carries=row.carries,
        screen=row.screen,
    )


def _feed(row: Any, plugs: TypeRefs) -> core.Feed:
    return core.Feed(
        outlets=tuple(f"{o['supply']}.{o['name']}" for o in row.outlet_rows),
        jacks=tuple(f"{j['pedal']}.{j['name']}" for j in row.jack_rows),
        settings=tuple(o["setting_mv"] for o in row.outlet_rows),
        adapters=tuple(row.adapters),
        pinned=row.pinned,
        lead=_lead(row, plugs) if hasattr(row, "lead") else None,
    )


def _lead(row: Any, plugs: TypeRefs) -> core.DcLead:
    tails = tuple(core.Tail(j["tail_length"], j["tail_mm2"], j["tail_awg"]) for j in row.jack_rows)
    return core.DcLead(
        length=row.lead.length,
        mm2=as_float(row.lead.mm2),
        awg=row.lead.awg,
        connector=row.lead.connector or None,
        plug=plugs.get(row.lead.plug_id),
        tails=() if all(tail == core.Tail() for tail in tails) else tails,
    )


def _stock(head: Any, cables: TypeRefs) -> Iterable[core.StockLength]:
    """What the shop has of the cable types on this board."""
    for row in head.stock_rows:
        if row["cable_id"] in cables:
            yield core.StockLength(cables[row["cable_id"]], row["length"], row["count"], row["kind"])


def _venue(head: Board) -> core.Venue | None:
    venue = core.Venue(head.venue_mv, head.venue_hz, head.venue_plug or None)
    return None if venue == core.Venue() else venue


def _accepted(row: dict[str, Any]) -> core.Accepted:
    return core.Accepted(
        rule=row["rule"],
        subjects=tuple(row["subjects"]),
        why=row["why"],
        by=row["by"] or None,
        on=row["on"],
    )


def _incomplete(entry: dict[str, Any]) -> core.Incomplete:
    return core.Incomplete(entry["where"], tuple(entry["lacks"]), entry["text"])
