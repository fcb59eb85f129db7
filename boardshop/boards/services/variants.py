"""Variants: named ways to build one board, of which the working copy is one."""

from __future__ import annotations

from django.utils import timezone

from boardshop.boards.errors import VariantIsCurrent, VariantNameMissing
from boardshop.boards.history.applying import apply_patch
from boardshop.boards.history.patch import make_patch, without_identity
from boardshop.boards.history.recording import recorded
from boardshop.boards.history.state import State
from boardshop.boards.models import Board, Change, Variant
from boardshop.boards.services.editing import check_board

FIRST_NAME = "As it was"
"""What the working copy is called as a variant before somebody gives it a name."""


def add_variant(board: Board, seen: int, name: str) -> Variant:
    """A new variant, equal to the working copy at first, and current from now on.

    What the working copy was stays beside it: under its own name, or as the first variant of all.
    """
    name = _checked(name)
    with recorded(board, seen, Change.Kind.VARIANT) as recording:
        state = recording.before.state
        if board.variant is None:
            _make(board, FIRST_NAME, state)
        else:
            board.variants.filter(state__isnull=True).update(state=state)
        variant = _make(board, name, None)
        _set_current(board, variant)
        recording.said.append(f"Variant “{name}” was begun.")
    return variant


def use_variant(board: Board, seen: int, variant: Variant) -> None:
    """Make it the working copy; what the working copy was is kept under its own name.

    Raises VariantIsCurrent, and GearGone, GearInTrash or UnitElsewhere as a restored revision does.
    """
    check_board(board, variant)
    if variant.state is None:
        raise VariantIsCurrent(name=variant.name)
    with recorded(board, seen, Change.Kind.VARIANT) as recording:
        now = recording.before.state
        board.variants.filter(state__isnull=True).update(state=now)
        left_out = apply_patch(board, without_identity(make_patch(now, variant.state)), now)
        Variant.objects.filter(pk=variant.pk).update(state=None)
        _set_current(board, variant)
        recording.said += [f"Variant “{variant.name}” is current.", *left_out]


def rename_variant(board: Board, seen: int, variant: Variant, name: str) -> None:
    """Another name; which one is current stays."""
    check_board(board, variant)
    name = _checked(name)
    with recorded(board, seen, Change.Kind.VARIANT) as recording:
        if name != variant.name:
            recording.said.append(f"Variant “{variant.name}” is now called “{name}”.")
            variant.name = name
            variant.save(update_fields=["name"])


def remove_variant(board: Board, seen: int, variant: Variant) -> None:
    """Take away one that is not current; the working copy is not touched.

    Where only the current one is left, the board has no variants any more.
    """
    check_board(board, variant)
    if variant.state is None:
        raise VariantIsCurrent(name=variant.name)
    with recorded(board, seen, Change.Kind.VARIANT) as recording:
        recording.said.append(f"Variant “{variant.name}” was removed.")
        variant.delete()


def _make(board: Board, name: str, state: State | None) -> Variant:
    who = str(board.person or "")
    return Variant.objects.create(board=board, name=name, state=state, made_at=timezone.now(), who=who)


def _set_current(board: Board, variant: Variant) -> None:
    board.variant = variant
    Board.objects.filter(pk=board.pk).update(variant=variant)


def _checked(name: str) -> str:
    name = name.strip()
    if not name:
        raise VariantNameMissing
    return name
