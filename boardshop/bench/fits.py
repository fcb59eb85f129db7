"""Which cable goes on which link: the spares for one link, and the links of a board for one cable."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from typing import Any

from boardshop.bench.register import read_cables, row_of
from boardshop.boards.models import Board
from boardshop.boards.plan.read import load_plan
from boardshop.core.cables import measure_runs
from boardshop.core.cables.made import Reach, list_reaches
from boardshop.core.cables.retest import Retest
from boardshop.core.cables.runs import cable_length
from boardshop.core.cables.spares import SpareFit, fit_spare, rank_fit, rank_spares
from boardshop.core.index import PlanIndex, fold, index_plan
from boardshop.core.plan import BoardPlan, Link, PlugType
from boardshop.gear.made_cables import spare_value
from boardshop.gear.models import MadeCable

SHOWN_SPARES = 30


@dataclass(frozen=True)
class Spare:
    """A spare cable, how it fits, and when it is to be tested again."""

    cable: MadeCable
    fit: SpareFit
    retest: Retest


@dataclass(frozen=True)
class Place:
    """A link that a cable could go on, and how it would fit there."""

    link: Link
    fit: SpareFit


def list_spares(board: Board, plan: BoardPlan, ref: str, today: date) -> list[Spare]:
    """Cables of the shop on no board, the best thirty; those that fit stand first.  As many queries as the
    register's list.
    """
    rows = read_cables(board.shop).filter(scrapped_on=None, links__isnull=True)
    cables = {row.code: row for row in rows}
    fits = rank_spares(plan, ref, [spare_value(cable) for cable in cables.values()])
    return [
        Spare(cables[fit.spare.code], fit, row_of(cables[fit.spare.code], today).retest)
        for fit in fits[:SHOWN_SPARES]
    ]


def list_places(plan: BoardPlan, cable: MadeCable) -> list[Place]:
    """Every link of the board in the order of the spares: what fits first, least too long first."""
    spare = spare_value(cable)
    places = [Place(link, fit_spare(plan, link, spare)) for link in plan.links]
    return sorted(places, key=lambda one: rank_fit(plan, one.link, one.fit))


def reach_there(board: Board, ref: str) -> Reach | None:
    """Whether the cable that is on this link still reaches; None for a lead of given length."""
    return list_reaches(load_plan(board)).get(fold(ref))


def link_called(plan: BoardPlan, ref: str) -> Link | None:
    return next((link for link in plan.links if fold(link.ref) == fold(ref)), None)


def as_new_cable(plan: BoardPlan, link: Link) -> dict[str, Any]:
    """What a cable made for this link is, for the form that adds it to the register."""
    index = index_plan(plan)
    cut = next((run.cut_mm for run in measure_runs(plan) if fold(run.link.ref) == fold(link.ref)), None)
    plugs = _plug(index, link.plug_from), _plug(index, link.plug_to)
    cable = index.cables.get(fold(link.cable)) if link.cable else None
    return {
        "kind": _kind_for(link, plugs),
        # A new one for a link that is made already is cut as the run is now.
        "length": cut if link.length is None and cut is not None else cable_length(link, cut),
        "cable": cable.name if cable else "",
        "plug_a": plugs[0].name if plugs[0] else "",
        "plug_b": plugs[1].name if plugs[1] else "",
        "place": "bench",
    }


def _plug(index: PlanIndex, ref: str | None) -> PlugType | None:
    return index.plugs.get(fold(ref)) if ref else None


def _kind_for(link: Link, plugs: tuple[PlugType | None, PlugType | None]) -> str:
    """Stereo where both plugs have three poles; a USB lead is bought, so its kind is left to choose."""
    if link.carries == "signal" and all(plug and plug.connector in ("6.35 TRS", "3.5 TRS") for plug in plugs):
        return "stereo"
    return "" if link.carries == "usb" else link.carries
