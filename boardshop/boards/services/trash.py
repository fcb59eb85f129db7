"""What was taken away and may be put back: whole boards, and pedals taken off a board."""

from __future__ import annotations

from contextlib import suppress
from datetime import datetime

from django.db import transaction
from django.db.models import ProtectedError, QuerySet, RestrictedError
from django.utils import timezone

from boardshop.boards.constraints import BOARD_REFUSALS
from boardshop.boards.errors import GearInTrash, NotInTrash, RefTakenSince
from boardshop.boards.history.applying import apply_patch
from boardshop.boards.history.conflicts import find_conflicts, result_of
from boardshop.boards.history.patch import Pair, Patch, make_patch, reverse
from boardshop.boards.history.recording import UNNAMED, Recording, recorded
from boardshop.boards.history.state import HEAD, State
from boardshop.boards.models import Board, Change
from boardshop.crew.constraints import refusals_by
from boardshop.crew.errors import Refusal
from boardshop.crew.models import Shop
from boardshop.crew.trash import kept_since

FRAME, ITEM, PLACEMENT, LINK = "boards_frame", "boards_item", "boards_placement", "boards_link"
FEED = "boards_feed"


class Hanging(Refusal):
    """what it was joined to is no longer there."""


def trash_board(board: Board, seen: int) -> None:
    """Put the board into the trash, with everything on it; its gear and units are free for other boards."""
    with recorded(board, seen, Change.Kind.TRASH) as recording:
        now = recording.before.state
        bare: State = {table: rows if table in (HEAD, FRAME) else {} for table, rows in now.items()}
        apply_patch(board, make_patch(now, bare), now)
        recording.said.append("The board was put in the trash.")
        board.trashed_at, board.trashed_by = timezone.now(), board.person
        board.save(update_fields=["trashed_at", "trashed_by"])


def restore_board(board: Board) -> list[str]:
    """Take it out of the trash as it was; returns in sentences what was left out.

    Raises NotInTrash, GearInTrash for what it needs from there, or UnitElsewhere for a unit used since.
    """
    change = Change.objects.filter(board=board, kind=Change.Kind.TRASH).order_by("-number").first()
    if board.trashed_at is None or board.trashed_at < kept_since() or change is None:
        raise NotInTrash(thing=board.name)
    if board.client is not None and board.client.trashed_at is not None:
        raise GearInTrash(things=board.client.name)
    with transaction.atomic():
        board.trashed_at = board.trashed_by = None
        board.save(update_fields=["trashed_at", "trashed_by"])
        with recorded(board, board.edit_number, Change.Kind.RETURN) as recording:
            left_out = apply_patch(board, reverse(change.patch), recording.before.state)
            recording.of = change
            recording.said += ["The board was put back from the trash.", *left_out]
    return left_out


def trashed_boards(shop: Shop) -> QuerySet[Board]:
    """Those of the last 30 days, newest first, each with who put it there."""
    boards = Board.with_trash.filter(shop=shop, trashed_at__gte=kept_since())
    return boards.select_related("trashed_by", "client").order_by("-trashed_at")


def removed_pedals(shop: Shop) -> QuerySet[Change]:
    """The edits of the last 30 days that took pedals off boards of the shop and stand, newest first."""
    edits = Change.objects.filter(
        board__shop=shop, board__trashed_at=None, kind=Change.Kind.EDIT, is_undone=False, at__gte=kept_since()
    )
    return edits.exclude(removed=[]).select_related("board").defer("patch").order_by("-at")


def restore_pedal(board: Board, change: Change) -> list[str]:
    """Put back the pedals that this edit took off, each with those links and feeds that still fit.

    Returns in sentences what did not fit any more.  Raises NotInTrash when it was put back already, and
    a refusal when a pedal itself does not fit: its ref or its unit is used elsewhere now.
    """
    if change.is_undone or not change.removed or change.board_id != board.pk:
        raise NotInTrash(thing=", ".join(change.removed) or board.name)
    with recorded(board, board.edit_number, Change.Kind.RETURN) as recording:
        left_out = _put_back(board, recording, reverse(change.patch))
        recording.of = change
        Change.objects.filter(pk=change.pk).update(is_undone=True)
    return left_out


def purge_boards(before: datetime) -> int:
    """Delete for good the boards that lie in the trash since before that time; returns how many.

    One that something else still holds stays for the next time.
    """
    count = 0
    for board in Board.with_trash.filter(trashed_at__lt=before):
        with suppress(ProtectedError, RestrictedError), transaction.atomic():
            board.feeds.all().delete()
            board.delete()
            count += 1
    return count


def _put_back(board: Board, recording: Recording, patch: Patch) -> list[str]:
    """First the pedals, which must fit; then each link, feed and note by itself, as far as it does."""
    state, left_out = recording.before.state, list[str]()
    pedals, others = _groups(patch)
    _check_refs_free(board, pedals, state)
    for group in (pedals, *others):
        try:
            with refusals_by(BOARD_REFUSALS, **UNNAMED, board=board.name):
                if find_conflicts(group, state):
                    raise Hanging
                recording.said += apply_patch(board, group, state)
        except Refusal as refusal:
            if group is pedals:
                raise
            left_out.append(f"{_words(group, patch)}: {refusal}")
        else:
            state = result_of(group, state)
    recording.said += [f"Left out: {said}" for said in left_out]
    return left_out


def _groups(patch: Patch) -> tuple[Patch, list[Patch]]:
    """What comes back together: the pedals; then each link, each feed with its parts, each further row."""
    back = {
        table: {key: pair for key, pair in rows.items() if pair[0] is None and pair[1] is not None}
        for table, rows in patch.items()
    }
    pedals: Patch = {ITEM: {}, PLACEMENT: back.get(PLACEMENT, {})}
    groups: dict[tuple[str, str], Patch] = {}
    for table, rows in back.items():
        for key, pair in rows.items():
            if table == ITEM and key in pedals[PLACEMENT]:
                pedals[ITEM][key] = pair
            elif table != PLACEMENT:
                groups.setdefault(_root(table, key, pair), {}).setdefault(table, {})[key] = pair
    return pedals, list(groups.values())


def _root(table: str, key: str, pair: Pair) -> tuple[str, str]:
    """Rows with the same root belong together."""
    row = pair[1] or {}
    if table == FEED or "feed_id" in row:
        return FEED, str(row.get("feed_id", key))
    return (ITEM, key) if table in (ITEM, LINK) else (table, key)


def _check_refs_free(board: Board, pedals: Patch, state: State) -> None:
    taken = {row["ref"].casefold() for row in state[ITEM].values()}
    for pair in pedals[ITEM].values():
        ref = (pair[1] or {})["ref"]
        if ref.casefold() in taken:
            raise RefTakenSince(thing=ref, board=board.name)


def _words(group: Patch, patch: Patch) -> str:
    """`W3` for a link, else what kind of thing it is."""
    for pair in group.get(ITEM, {}).values():
        return str((pair[1] or {})["ref"])
    return "Its feed" if any("feed" in table for table in group) else "A note about it"
