"""The photos and files of a board, and of the pedals, supplies and links on it, whatever these are called."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass
from typing import Any

from django.db.models import F, OuterRef, QuerySet, Subquery
from django.urls import reverse

from boardshop.boards.models import Board, BoardFile, Item, Revision
from boardshop.files.models import Attachment
from boardshop.files.section import FileSection, file_section, listed


@dataclass(frozen=True)
class BoardHolder:
    """The board itself where `ref` is blank."""

    board: Board
    ref: str = ""

    def files(self) -> QuerySet[Attachment]:
        files = Attachment.with_trash.filter(of_board__board=self.board)
        if not self.ref:
            return files.filter(of_board__ref="")
        return files.filter(of_board__item_key__in=self._item().values("pk"))

    def hold(self, attachment: Attachment) -> None:
        key = self._item().values_list("pk", flat=True).get() if self.ref else None
        BoardFile.objects.create(attachment=attachment, board=self.board, ref=self.ref, item_key=key)

    def _item(self) -> QuerySet[Item]:
        return Item.objects.filter(board=self.board, ref__iexact=self.ref)


@dataclass(frozen=True)
class BoardFiles:
    """What the board's own page shows: its own, how many each thing on it has, and those of things gone."""

    own: FileSection
    counts: list[tuple[str, int]]
    gone: list[Attachment]


def board_files(board: Board, refs: Collection[str], *, editing: bool) -> BoardFiles:
    """In two queries, or one without editing; `refs` are those of all that is on the board."""
    files = _with_refs(Attachment.with_trash.filter(of_board__board=board))
    by_ref: dict[str, list[Attachment]] = {}
    gone, of_board = list[Attachment](), list[Attachment]()
    for one in files.annotate(came_as=F("of_board__ref")):
        rows = gone if one.ref is None else by_ref.setdefault(one.ref.casefold(), [])
        (of_board if one.came_as == "" else rows).append(one)
    own = file_section(of_board, board.shop, back=_page(board), add=_add(board, editing))
    counts = []
    for ref in refs:
        kept = [one for one in by_ref.get(ref.casefold(), []) if one.trashed_at is None]
        counts += [(ref, len(kept))] if kept else []
    return BoardFiles(own, counts, [one for one in gone if one.trashed_at is None])


def files_of_part(board: Board, ref: str, *, back: str, editing: bool) -> FileSection:
    """Those of one pedal, supply or link, on the page `back`."""
    holder = BoardHolder(board, ref)
    return file_section(holder.files(), board.shop, back=back, add=_add(board, editing), ref=ref)


def photos_by_ref(board: Board, revision: Revision | None = None) -> dict[str, list[Attachment]]:
    """The photos of each thing on the board, by its ref in small letters, in one query.

    With a revision by the ref that the thing bore in it, in one query more.
    """
    files = _with_refs(Attachment.objects.filter(of_board__board=board, kind=Attachment.Kind.PHOTO))
    photos = list(files.exclude(of_board__ref="").annotate(item_key=F("of_board__item_key")))
    then = _refs_in(revision) if revision is not None and photos else None
    found: dict[str, list[Attachment]] = {}
    for one in photos:
        ref = one.ref if then is None else then.get(one.item_key)
        if ref is not None:
            found.setdefault(ref.casefold(), []).append(one)
    return found


def _with_refs(files: QuerySet[Attachment]) -> Any:
    """Each with `ref`, what the thing is called now; None for the board's own and for what is gone."""
    item = Item.objects.filter(pk=OuterRef("of_board__item_key"), board=OuterRef("of_board__board"))
    return listed(files).annotate(ref=Subquery(item.values("ref")[:1]))


def _refs_in(revision: Revision) -> dict[int, str]:
    """The refs of everything on the board as it was released, by the key of its row."""
    rows = Revision.objects.filter(pk=revision.pk).values_list(f"state__{Item._meta.db_table}", flat=True)
    return {int(key): columns["ref"] for key, columns in (rows.get() or {}).items()}


def _page(board: Board) -> str:
    return reverse("board", args=[board.code])


def _add(board: Board, editing: bool) -> str:
    return reverse("add-board-files", args=[board.code]) if editing else ""
