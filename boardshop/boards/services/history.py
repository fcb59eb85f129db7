"""Back and forth through one's own changes of a working copy, never over what others did since.

What undo and redo mean here:

- Undo takes back the last own change that stands; redo makes the one again that was undone last.
  A new own edit ends the way forward.
- Each step is looked at by itself: it is made only where every row that it touches still stands as the change
  left it and nothing hangs on what would go.  Otherwise nothing is done, and the refusal names the edit that
  stands in the way and who made it.
- So that one such change does not hold up all older ones, the step may go `past` it to the next one of the
  person's own, which is looked at in the same way, on what stands there now.  The one that was passed stays
  as it is and stays next in line, for the day when nothing stands in its way any more.
- A change that is taken back out of turn leaves later ones alone: they touch other rows, or it is refused.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.db.models import IntegerField, Max, Q, QuerySet, Subquery, Value
from django.db.models.functions import Coalesce

from boardshop.boards.errors import ChangedSince, NotAsLeft, NothingToRedo, NothingToUndo
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
    # A whole board that was put back goes into the trash again by itself, not by an undo that would empty it.
    mine = mine.exclude(kind=Change.Kind.RETURN, of__kind=Change.Kind.TRASH)
    return mine if board.person else mine.none()


def _standing(board: Board, past: int | None = None) -> QuerySet[Change]:
    """Own changes that can be taken back, the last one first; only those before edit `past` where given."""
    standing = own_changes(board).filter(is_undone=False).order_by("-number")
    return standing if past is None else standing.filter(number__lt=past)


def _undos(board: Board) -> QuerySet[Change]:
    """Own undos since the last own edit whose change is still undone, the last one first.

    A change that went to and fro has several.
    """
    last = own_changes(board).order_by("-number").values("number")[:1]
    since = Coalesce(Subquery(last), Value(-1), output_field=IntegerField())
    found = Change.objects.filter(board=board, person=board.person, kind=Change.Kind.UNDO, number__gt=since)
    still = found.filter(of__is_undone=True, of__variant=board.variant_id).order_by("-number")
    return still if board.person else still.none()


def find_undoable(board: Board, past: int | None = None) -> Change | None:
    """The last own change that stands, of those before edit `past` where one is to be passed over."""
    return _standing(board, past).first()


def find_redoable(board: Board, past: int | None = None) -> Change | None:
    """The own change that was undone last; with `past`, the one that was undone next before that one."""
    undos = _undos(board)
    if past is not None:
        passed = undos.filter(of__number=past).aggregate(last=Max("number"))["last"]
        later = undos.filter(number__gte=passed or 0).order_by().values("of")
        undos = undos.filter(number__lt=passed or 0).exclude(of__in=later)
    undo = undos.select_related("of").first()
    return undo.of if undo else None


def undo_change(board: Board, seen: int, past: int | None = None) -> Change:
    """Take back the person's own last change, or the one before edit `past`; it can be done again.

    Raises NothingToUndo, or ChangedSince where somebody has changed the same rows later.
    """
    with recorded(board, seen, Change.Kind.UNDO) as recording:
        change = find_undoable(board, past)
        if change is None:
            raise NothingToUndo(board=board.name)
        _turn(board, recording, change, reverse(change.patch), is_undone=True)
    return change


def redo_change(board: Board, seen: int, past: int | None = None) -> Change:
    """Do again what was undone last, or next before edit `past`; raises NothingToRedo or ChangedSince."""
    with recorded(board, seen, Change.Kind.REDO) as recording:
        change = find_redoable(board, past)
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
    """For the buttons on the board's pages, in one query; in none where an edit has just been made.

    Nothing of one's own comes after that edit, and what was undone before it is not done again.
    """
    made, board.change_after = board.change_after, None
    if made is not None and board.person is not None and made.kind == Change.Kind.EDIT and made.patch:
        return Steps(undo=made, redo=None)
    columns = ("pk", "number", "is_undone", "sentences")
    undone = Change.objects.filter(pk__in=Subquery(_undos(board).values("of")[:1]))
    rows = _standing(board).only(*columns)[:1].union(undone.only(*columns), all=True)
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
        raise _refused(board, change, spots)
    recording.said += apply_patch(board, patch, now)
    recording.of = change
    Change.objects.filter(pk=change.pk).update(is_undone=is_undone)


def _refused(board: Board, change: Change, spots: list[Spot]) -> ChangedSince:
    """With the last edit after the change that touched one of these rows."""
    touching = Q()
    for table, key in spots[:SHOWN_SPOTS]:
        touching |= Q(**{f"patch__{table}__has_key": key})
    later = Change.objects.filter(touching, board=board, number__gt=change.number).order_by("-number").first()
    mine: dict[str, Any] = {"own": change.number, "mine": _say(change)}
    if later is None:
        return NotAsLeft(**mine)
    who = "You yourself" if later.person_id == change.person_id else later.who or "Somebody"
    return ChangedSince(who=who, number=later.number, what=_say(later), **mine)


def _say(change: Change) -> str:
    return " ".join(change.sentences[:2])
