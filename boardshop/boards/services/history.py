"""Back and forth through one's own changes of a working copy, never over what others did since."""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import Q, QuerySet, Subquery
from django.db.models.functions import Coalesce

from boardshop.boards.errors import ChangedSince, NothingToRedo, NothingToUndo
from boardshop.boards.history.applying import apply_patch
from boardshop.boards.history.conflicts import Spot, find_conflicts
from boardshop.boards.history.patch import Patch, reverse
from boardshop.boards.history.recording import Recording, recorded
from boardshop.boards.models import Board, Change, Revision

UNDOABLE = (Change.Kind.EDIT, Change.Kind.RETURN, Change.Kind.RESTORE)
"""What one's own undo takes back; an undo is answered by redo, a variant by choosing the other one."""
SHOWN_SPOTS = 20
"""So many touched rows are looked for in later changes, to say who made them."""


def own_changes(board: Board) -> QuerySet[Change]:
    """What the person for whom the board was got did to the variant that is current; nobody did nothing."""
    mine = Change.objects.filter(
        board=board, person=board.person, kind__in=UNDOABLE, variant=board.variant_id
    ).exclude(patch={})
    return mine if board.person else mine.none()


def find_undoable(board: Board) -> Change | None:
    """The last own change that stands."""
    return own_changes(board).filter(is_undone=False).order_by("-number").first()


def find_redoable(board: Board) -> Change | None:
    """The first own change that was undone after the last one that stands: a new edit ends the way back."""
    standing = own_changes(board).filter(is_undone=False).order_by("-number").values("number").first()
    undone = own_changes(board).filter(is_undone=True, number__gt=standing["number"] if standing else -1)
    return undone.order_by("number").first()


def undo_change(board: Board, seen: int) -> Change:
    """Take back the person's own last change; it can be done again.

    Raises NothingToUndo, or ChangedSince where somebody has changed the same rows later.
    """
    with recorded(board, seen, Change.Kind.UNDO) as recording:
        change = find_undoable(board)
        if change is None:
            raise NothingToUndo(board=board.name)
        _turn(board, recording, change, reverse(change.patch), is_undone=True)
    return change


def redo_change(board: Board, seen: int) -> Change:
    """Do again what was undone last; raises NothingToRedo or ChangedSince."""
    with recorded(board, seen, Change.Kind.REDO) as recording:
        change = find_redoable(board)
        if change is None:
            raise NothingToRedo(board=board.name)
        _turn(board, recording, change, change.patch, is_undone=False)
    return change


def changes_since(board: Board, seen: int) -> list[Change]:
    """What happened after the edit number that somebody's page showed, oldest first."""
    later = Change.objects.filter(board=board, number__gt=seen).defer("patch").select_related("person")
    return list(later.order_by("number"))


def was_kept(board: Board, seen: int, mark: str) -> bool:
    """Whether this very form, made on that edit number, was kept already: it was sent twice."""
    kept = Change.objects.filter(board=board, number=seen + 1, mark=mark, person=board.person)
    return board.person is not None and kept.exists()


@dataclass(frozen=True)
class Steps:
    """What the next undo and the next redo would do; None where there is nothing."""

    undo: Change | None
    redo: Change | None


def next_steps(board: Board) -> Steps:
    """For the buttons on the board's pages, in one query."""
    columns = ("pk", "number", "is_undone", "sentences")
    standing = own_changes(board).filter(is_undone=False).order_by("-number")
    last = Coalesce(Subquery(standing.values("number")[:1]), -1)
    undone = own_changes(board).filter(is_undone=True, number__gt=last).order_by("number")
    rows = standing.only(*columns)[:1].union(undone.only(*columns)[:1], all=True)
    found = {change.is_undone: change for change in rows}
    return Steps(undo=found.get(False), redo=found.get(True))


def list_changes(board: Board) -> QuerySet[Change]:
    """All of them, newest first, without the rows they touched."""
    return board.changes.defer("patch").select_related("of", "variant").order_by("-number")


def released_between(board: Board, changes: list[Change]) -> dict[int, list[Revision]]:
    """The revisions that were released on the state which one of these changes left, by its number.

    One query for a page of the list.
    """
    if not changes:
        return {}
    numbers = (changes[-1].number, changes[0].number)
    found: dict[int, list[Revision]] = {}
    for revision in board.revisions.filter(edit_number__range=numbers).defer("file", "report", "state"):
        found.setdefault(revision.edit_number, []).append(revision)
    return found


def _turn(board: Board, recording: Recording, change: Change, patch: Patch, *, is_undone: bool) -> None:
    now = recording.before.state
    spots = find_conflicts(patch, now)
    if spots:
        raise _changed_since(board, change, spots)
    apply_patch(board, patch, now)
    recording.of = change
    Change.objects.filter(pk=change.pk).update(is_undone=is_undone)


def _changed_since(board: Board, change: Change, spots: list[Spot]) -> ChangedSince:
    touching = Q()
    for table, key in spots[:SHOWN_SPOTS]:
        touching |= Q(**{f"patch__{table}__has_key": key})
    later = Change.objects.filter(touching, board=board, number__gt=change.number).order_by("-number").first()
    if later is None:
        return ChangedSince(who="Somebody", what="gear that it uses")
    who = "You yourself" if later.person_id == change.person_id else later.who or "Somebody"
    return ChangedSince(who=who, what=" ".join(later.sentences[:2]))
