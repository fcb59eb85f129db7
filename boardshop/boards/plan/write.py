"""`store_plan`: a plan becomes a board with all its rows, or nothing at all."""

from dataclasses import asdict
from typing import Any

from django.db import transaction

from boardshop.boards.history.stays import begin_stays
from boardshop.boards.models import (
    AcceptedFinding,
    Amp,
    Board,
    Computer,
    DcLead,
    Feed,
    FeedJack,
    FeedOutlet,
    Frame,
    Item,
    Link,
    Piece,
    Placement,
    Scene,
    Source,
    SupplyPlacement,
)
from boardshop.boards.plan.frames import frame_columns
from boardshop.boards.plan.gear import Shelf, blank_texts
from boardshop.boards.plan.made_cables import free_cables, made_length
from boardshop.boards.plan.rows import store, store_all
from boardshop.core import plan as core
from boardshop.core.index import fold, index_plan, split_end
from boardshop.crew.models import Client, Shop
from boardshop.gear.models import CableStock, CableType, DrawerItem, MadeCable, PlugType


@transaction.atomic
def store_plan(
    shop: Shop,
    plan: core.BoardPlan,
    *,
    name: str,
    client: Client | None = None,
    with_stock: bool = False,
    begun_by: str = "",
) -> Board:
    """A new board of the shop that reads back as the same plan.

    The shop's own gear is used where a sheet is the same; `with_stock` also puts the plan's cable on the
    shop's shelf and its leads and adapters into the drawer, which only the first import of a shop wants.
    """
    return _Writer(shop, plan, name, client, begun_by).write(with_stock=with_stock)


class _Writer:
    """Holds what later rows point to while one plan is written."""

    def __init__(
        self, shop: Shop, plan: core.BoardPlan, name: str, client: Client | None, begun_by: str
    ) -> None:
        self.plan, self.client = plan, client
        self.shelf = Shelf(shop)
        self.board = _add_board(shop, plan, name, client, begun_by)
        self.frame = store(Frame(board=self.board, **frame_columns(plan.frame)), "The frame")
        self.items: dict[str, Item] = {}
        index = index_plan(plan)
        self.cables = {ref: self.shelf.cable(cable) for ref, cable in index.cables.items()}
        self.plugs = {ref: self.shelf.plug(plug) for ref, plug in index.plugs.items()}
        self.made = {
            ref: one for ref, one in free_cables(shop, plan.links).items() if self._is_as_made(ref, one)
        }

    def write(self, *, with_stock: bool) -> Board:
        for number, pedal in enumerate(self.plan.pedals):
            self._keep(self._add_placement(number, pedal))
        self._join_together()
        self._add_ends()
        for number, supply in enumerate(self.plan.supplies):
            self._keep(self._add_supply(number, supply))
        for number, link in enumerate(self.plan.links):
            self._add_link(number, link)
        for number, feed in enumerate(self.plan.feeds):
            self._add_feed(number, feed)
        self._add_notes()
        begin_stays(self.board, self.plan, self._refs_of_cables())
        if with_stock:
            self._add_stock()
            self._add_drawer()
        return self.board

    def _is_as_made(self, ref: str, made: MadeCable) -> bool:
        """Whether the file gives this link the cable type and plugs that the register gives its cable."""
        link = next(one for one in self.plan.links if fold(one.ref) == ref)
        plugs = (self._plug(link.plug_from), self._plug(link.plug_to))
        own = (made.plug_a_id, made.plug_b_id)
        keys = tuple(plug.pk if plug else None for plug in plugs)
        cable = self._cable(link.cable)
        return keys in (own, own[::-1]) and (cable.pk if cable else None) == made.cable_id

    def _refs_of_cables(self) -> dict[int, str]:
        return {self.made[fold(one.ref)].pk: one.ref for one in self.plan.links if fold(one.ref) in self.made}

    def _keep(self, item: Item) -> None:
        self.items[fold(item.ref)] = item

    def _add_placement(self, number: int, pedal: core.Pedal) -> Placement:
        model = self.shelf.pedal(pedal)
        return store(
            Placement(
                board=self.board,
                frame=self.frame,
                position=number,
                ref=pedal.ref,
                model=model,
                unit=self.shelf.unit(pedal, self.client),
                on=pedal.on,
                use=pedal.use,
                x=pedal.place.x if pedal.place else None,
                y=pedal.place.y if pedal.place else None,
                turn=pedal.place.turn if pedal.place else 0,
                pinned=pedal.pinned,
                settings=pedal.settings or "",
            ),
            pedal.ref,
        )

    def _join_together(self) -> None:
        for pedal in self.plan.pedals:
            if pedal.together:
                placement = self.items[fold(pedal.ref)]
                assert isinstance(placement, Placement)
                placement.together.set([self.items[fold(ref)] for ref in pedal.together])  # type: ignore[misc]

    def _add_ends(self) -> None:
        for number, source in enumerate(self.plan.sources):
            self._keep(
                store(Source(board=self.board, position=number, **_source_columns(source)), source.ref)
            )
        for number, amp in enumerate(self.plan.amps):
            columns = asdict(amp) | {"speaker": amp.speaker or "", "jacks": [asdict(j) for j in amp.jacks]}
            self._keep(store(Amp(board=self.board, position=number, **columns), amp.ref))
        for number, computer in enumerate(self.plan.computers):
            columns = asdict(computer) | {"jacks": [asdict(jack) for jack in computer.jacks]}
            self._keep(store(Computer(board=self.board, position=number, **columns), computer.ref))

    def _add_supply(self, number: int, supply: core.Supply) -> SupplyPlacement:
        place = supply.place
        return store(
            SupplyPlacement(
                board=self.board,
                position=number,
                ref=supply.ref,
                model=self.shelf.supply(supply),
                x=place.x if place else None,
                y=place.y if place else None,
                turn=place.turn if place else 0,
                under=place.under if place else False,
            ),
            supply.ref,
        )

    def _add_link(self, number: int, link: core.Link) -> None:
        cable = self.made.get(fold(link.ref))
        store(
            Link(
                board=self.board,
                position=number,
                ref=link.ref,
                **self._end("from", link.source),
                **self._end("to", link.target),
                cable=self._cable(link.cable),
                plug_from=self._plug(link.plug_from),
                plug_to=self._plug(link.plug_to),
                route=link.route,
                length=link.length,
                made=made_length(link),
                made_cable=cable,
                carries=link.carries,
                screen=link.screen,
            ),
            link.ref,
        )

    def _end(self, side: str, end: str) -> dict[str, Any]:
        ref, name = split_end(end)
        item = self.items[fold(ref)]
        if not isinstance(item, Placement):
            return {f"{side}_item": item, f"{side}_name": name}
        jack = next(j for j in item.model.jacks.all() if fold(j.name) == fold(name))
        return {f"{side}_item": item, f"{side}_jack": jack}

    def _add_feed(self, number: int, feed: core.Feed) -> None:
        row = store(
            Feed(board=self.board, position=number, adapters=list(feed.adapters), pinned=feed.pinned),
            "A feed",
        )
        settings = feed.settings or (None,) * len(feed.outlets)
        for k, (outlet, setting) in enumerate(zip(feed.outlets, settings, strict=True)):
            ref, name = split_end(outlet)
            supply = self.items[fold(ref)]
            assert isinstance(supply, SupplyPlacement)
            found = next(o for o in supply.model.outlets.all() if fold(o.name) == fold(name))
            store(FeedOutlet(feed=row, position=k, supply=supply, outlet=found, setting_mv=setting), outlet)
        lead = feed.lead or core.DcLead()
        tails = lead.tails or (core.Tail(),) * len(feed.jacks)
        for k, (end, tail) in enumerate(zip(feed.jacks, tails, strict=True)):
            self._add_feed_jack(row, k, end, tail)
        if feed.lead is not None:
            columns = {n: getattr(lead, n) for n in ("length", "mm2", "awg")}
            store(
                DcLead(feed=row, connector=lead.connector or "", plug=self._plug(lead.plug), **columns),
                f"The lead to {feed.jacks[0]}",
            )

    def _add_feed_jack(self, feed: Feed, number: int, end: str, tail: core.Tail) -> None:
        ref, name = split_end(end)
        pedal = self.items[fold(ref)]
        assert isinstance(pedal, Placement)
        jack = next(j for j in pedal.model.power_jacks.all() if fold(j.name) == fold(name))
        store(
            FeedJack(
                feed=feed,
                position=number,
                pedal=pedal,
                jack=jack,
                tail_length=tail.length,
                tail_mm2=tail.mm2,
                tail_awg=tail.awg,
            ),
            end,
        )

    def _add_notes(self) -> None:
        for number, scene in enumerate(self.plan.scenes):
            row = store(Scene(board=self.board, position=number, name=scene.name), f"Scene {scene.name}")
            row.pedals.set([self.items[fold(ref)] for ref in scene.on])  # type: ignore[misc]
        for kept in self.plan.accepted:
            store(
                AcceptedFinding(
                    board=self.board,
                    rule=kept.rule,
                    subjects=list(kept.subjects),
                    why=kept.why,
                    by=kept.by or "",
                    on=kept.on,
                ),
                kept.rule,
            )
        for piece in self.plan.pieces:
            cable = self._cable(piece.cable)
            assert cable is not None
            store(Piece(board=self.board, ref=piece.ref, cable=cable, cut_mm=piece.cut_mm), piece.ref)

    def _add_stock(self) -> None:
        store_all(
            CableStock,
            (
                CableStock(
                    shop=self.board.shop,
                    cable=self.cables[fold(s.cable)],
                    length=s.length,
                    count=s.count,
                    kind=s.kind,
                )
                for s in self.plan.stock
            ),
            "The stock",
        )

    def _add_drawer(self) -> None:
        shop = self.board.shop
        items = (DrawerItem(shop=shop, **blank_texts(asdict(item))) for item in self.plan.drawer)
        store_all(DrawerItem, items, "The drawer")

    def _cable(self, ref: str | None) -> CableType | None:
        return None if ref is None else self.cables[fold(ref)]

    def _plug(self, ref: str | None) -> PlugType | None:
        return None if ref is None else self.plugs[fold(ref)]


def _add_board(shop: Shop, plan: core.BoardPlan, name: str, client: Client | None, begun_by: str) -> Board:
    venue = plan.venue or core.Venue()
    return store(
        Board(
            shop=shop,
            name=name,
            client=client,
            note=plan.note,
            rules=rule_overrides(plan.rules),
            incomplete=[asdict(entry) for entry in plan.incomplete],
            venue_mv=venue.mv,
            venue_hz=venue.hz,
            venue_plug=venue.plug or "",
            begun_by=begun_by,
        ),
        "The board",
    )


def rule_overrides(rules: core.Rules) -> dict[str, Any]:
    """The limits that differ from the defaults, as they are stored."""
    usual = asdict(core.Rules())
    return {
        name: list(value) if isinstance(value, tuple) else value
        for name, value in asdict(rules).items()
        if value != usual[name]
    }


def _source_columns(source: core.Source) -> dict[str, Any]:
    pickup = source.pickup or core.Pickup()
    return {
        "ref": source.ref,
        "pickup_r": pickup.r,
        "pickup_l": pickup.l,
        "pickup_c": pickup.c,
        "volume_ohm": source.volume_ohm,
        "tone_ohm": source.tone_ohm,
        "tone_nf": source.tone_nf,
        "output_ohm": source.output_ohm,
    }
