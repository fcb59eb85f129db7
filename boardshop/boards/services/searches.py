"""Searches for a layout: start one, stop it, take what it found."""

from __future__ import annotations

import json
from dataclasses import dataclass, field

from django.db import transaction
from django.utils import timezone

from boardshop.boards.constraints import BOARD_REFUSALS
from boardshop.boards.errors import (
    AllPlaced,
    CannotAllFit,
    FrameGone,
    NoFramesToTry,
    NothingToPlace,
    TooManySearches,
)
from boardshop.boards.history.recording import UNNAMED, Unchanged, recorded
from boardshop.boards.models import Board, LayoutSearch, Placement, SupplyPlacement
from boardshop.boards.plan.frames import frame_columns
from boardshop.boards.searching.choosing import Choice, find_choice
from boardshop.boards.searching.processes import start
from boardshop.boards.searching.stored import CatalogueFrame, write_frames, write_wishes
from boardshop.boards.searching.turns import LOST_AFTER
from boardshop.boards.services.editing import set_columns
from boardshop.core.boardfile import dump_plan
from boardshop.core.index import fold
from boardshop.core.placing import Wishes, find_impossible
from boardshop.core.plan import BoardPlan
from boardshop.crew.constraints import refusals_by
from boardshop.gear.models import FrameModel

KEPT = 20
"""So many searches of a board are kept; the oldest go when another one is started."""
MOST_WAITING = 8
"""Each one that waits is a process that takes some memory."""

Wanted, State = LayoutSearch.Wanted, LayoutSearch.State


@dataclass(frozen=True)
class Asked:
    """What is wanted: `ref` is the pedal to make room for; `anyway` also where somebody cannot be placed."""

    wanted: str
    wishes: Wishes = field(default_factory=Wishes)
    ref: str = ""
    anyway: bool = False


@transaction.atomic
def start_search(board: Board, plan: BoardPlan, asked: Asked) -> LayoutSearch:
    """A search on this plan of the board, which begins as soon as it is its turn.

    What is known to be impossible is refused at once, unless it is asked for anyway.
    """
    _check(board, plan, asked)
    end_lost_searches()
    waiting = LayoutSearch.objects.filter(state=State.WAITING).count()
    if waiting >= MOST_WAITING:
        raise TooManySearches(n=waiting)
    frames = write_frames(FrameModel.objects.filter(shop=board.shop_id))
    if asked.wanted == Wanted.FRAMES and not frames:
        raise NoFramesToTry
    now = timezone.now()
    with refusals_by(BOARD_REFUSALS, **UNNAMED, board=board.name):
        search = LayoutSearch.objects.create(
            board=board,
            person=board.person,
            who=str(board.person or ""),
            wanted=asked.wanted,
            ref=asked.ref,
            wishes=write_wishes(asked.wishes),
            file=json.dumps(dump_plan(plan)),
            frames=frames,
            edit_number=board.edit_number,
            asked_at=now,
            seen_at=now,
        )
    _forget_old(board)
    transaction.on_commit(lambda: start(search.pk))
    return search


def _check(board: Board, plan: BoardPlan, asked: Asked) -> None:
    if not plan.pedals:
        raise NothingToPlace(board=board.name)
    if asked.wanted == Wanted.FINISH and all(pedal.place for pedal in plan.pedals):
        raise AllPlaced(board=board.name)
    if asked.wanted == Wanted.FRAMES or asked.anyway:
        # What does not fit on the board's own frame may fit on another one.
        return
    reasons = find_impossible(plan, asked.wishes)
    if reasons:
        raise CannotAllFit(reasons=" ".join(reasons))


def end_lost_searches() -> int:
    """Those whose process died without a word; how many they were."""
    now = timezone.now()
    lost = LayoutSearch.objects.filter(state__in=LayoutSearch.UNDER_WAY, seen_at__lt=now - LOST_AFTER)
    return lost.update(state=State.FAILED, finished_at=now)


def _forget_old(board: Board) -> None:
    ended = LayoutSearch.objects.filter(board=board).exclude(state__in=LayoutSearch.UNDER_WAY)
    kept = ended.order_by("-pk").values_list("pk", flat=True)[: KEPT - 1]
    ended.exclude(pk__in=list(kept)).delete()


def stop_search(search: LayoutSearch) -> None:
    """It ends within a second with its best so far; one that ended already stays as it is."""
    under_way = LayoutSearch.objects.filter(pk=search.pk, state__in=LayoutSearch.UNDER_WAY)
    under_way.update(is_asked_to_stop=True)


def take_answer(board: Board, seen: int, search: LayoutSearch, key: str) -> None:
    """Lay the board out as the search's answer or cure of that key has it, as one edit.

    Raises NoSuchAnswer, FrameGone, and StaleEdit when the board has moved on.
    """
    choice = find_choice(search, key)
    with recorded(board, seen) as recording:
        recording.said.append(_take_layout(board, choice))


def _take_layout(board: Board, choice: Choice) -> str:
    """What it did, in a sentence.

    Every pedal goes where the layout has it; pinned ones, and those that it does not name, stay.

    On another frame pins do not hold, and a supply on top comes off.
    Raises FrameGone where its frame has left the catalogue, and Unchanged where all stands there already.
    """
    moved = _move_pedals(board, choice)
    is_other_frame = choice.on is not None and _change_frame(board, choice.on)
    if choice.on is not None:
        on_top = SupplyPlacement.objects.filter(board=board, under=False, x__isnull=False)
        moved += on_top.update(x=None, y=None)
    if not moved and not is_other_frame:
        raise Unchanged
    moves = "1 thing moved" if moved == 1 else f"{moved} things moved"
    return f"A layout was taken, and {moves} with it."


def _move_pedals(board: Board, choice: Choice) -> int:
    places = {fold(ref): place for ref, place in choice.placing.places}
    off = {fold(ref) for ref in choice.placing.left_out}
    turned = fold(choice.cure.subject) if choice.cure and choice.cure.kind == "turn" else None
    moved = []
    for pedal in Placement.objects.filter(board=board).select_related("model"):
        key, place = fold(pedal.ref), places.get(fold(pedal.ref))
        is_held = pedal.pinned and pedal.x is not None
        if (place is None and key not in off) or not choice.moves(key, is_pinned=is_held):
            continue
        then = (place.x, place.y, place.turn) if place else (None, None, pedal.turn)
        allowed = pedal.model.turns if pedal.turns is None else pedal.turns
        if key == turned and place and place.turn not in allowed:
            pedal.turns = [*allowed, place.turn]
        if (pedal.x, pedal.y, pedal.turn) != then:
            pedal.x, pedal.y, pedal.turn = then
            moved.append(pedal)
    return Placement.objects.bulk_update(moved, ["x", "y", "turn", "turns"]) if moved else 0


def _change_frame(board: Board, on: CatalogueFrame) -> bool:
    """Whether the board's frame became another one."""
    model = FrameModel.objects.filter(pk=on.model, shop=board.shop_id).first()
    if model is None:
        raise FrameGone(frame=on.name)
    columns = {**frame_columns(on.shape), "model": model}
    is_other = any(getattr(board.frame, name) != value for name, value in columns.items())
    if is_other:
        set_columns(board.frame, columns)
    return is_other
