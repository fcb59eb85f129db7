"""The photos and files of a board, and of the pedals, supplies and links on it."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from django.db.models import F, QuerySet
from django.urls import reverse

from boardshop.boards.models import Board, BoardFile
from boardshop.files.models import Attachment
from boardshop.files.section import FileSection, file_section, listed


@dataclass(frozen=True)
class BoardHolder:
    """The board itself where `ref` is blank."""

    board: Board
    ref: str = ""

    def files(self) -> QuerySet[Attachment]:
        return Attachment.with_trash.filter(of_board__board=self.board, of_board__ref__iexact=self.ref)

    def hold(self, attachment: Attachment) -> None:
        BoardFile.objects.create(attachment=attachment, board=self.board, ref=self.ref)


@dataclass(frozen=True)
class BoardFiles:
    """What the board's own page shows: its own, how many each thing on it has, and those of things gone."""

    own: FileSection
    counts: list[tuple[str, int]]
    gone: list[Attachment]


def board_files(board: Board, refs: Collection[str], *, editing: bool) -> BoardFiles:
    """In two queries, or one without editing; `refs` are those of all that is on the board."""
    files = listed(Attachment.with_trash.filter(of_board__board=board)).annotate(ref=F("of_board__ref"))
    by_ref: dict[str, list[Attachment]] = {}
    for one in files:
        by_ref.setdefault(one.ref.casefold(), []).append(one)
    own = file_section(by_ref.pop("", []), board.shop, back=_page(board), add=_add(board, editing))
    counts = []
    for ref in refs:
        kept = [one for one in by_ref.pop(ref.casefold(), []) if one.trashed_at is None]
        counts += [(ref, len(kept))] if kept else []
    gone = [one for rows in by_ref.values() for one in rows if one.trashed_at is None]
    return BoardFiles(own, counts, gone)


def files_of_part(board: Board, ref: str, *, back: str, editing: bool) -> FileSection:
    """Those of one pedal, supply or link, on the page `back`."""
    holder = BoardHolder(board, ref)
    return file_section(holder.files(), board.shop, back=back, add=_add(board, editing), ref=ref)


def photos_by_ref(board: Board) -> dict[str, list[Attachment]]:
    """The photos of each thing on the board, in one query, by its ref in small letters."""
    files = Attachment.objects.filter(of_board__board=board, kind=Attachment.Kind.PHOTO)
    found: dict[str, list[Attachment]] = {}
    for one in listed(files).annotate(ref=F("of_board__ref")):
        found.setdefault(one.ref.casefold(), []).append(one)
    return found


def _page(board: Board) -> str:
    return reverse("board", args=[board.code])


def _add(board: Board, editing: bool) -> str:
    return reverse("add-board-files", args=[board.code]) if editing else ""
