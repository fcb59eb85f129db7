"""The only way from a person to a board: a stranger gets 404, a viewer who edits 403."""

from django.db.models import OuterRef, QuerySet, Subquery
from django.http import Http404

from boardshop.boards.codes import clean_code
from boardshop.boards.models import Board
from boardshop.crew.access import Visitor, check_role, get_shop_for
from boardshop.crew.models import Membership, Person


def boards_for(person: Visitor) -> QuerySet[Board]:
    """The boards of the person's shop, by name, with whose they are."""
    return Board.objects.filter(shop=get_shop_for(person)).select_related("client")


def get_board_for(person: Visitor, code: str, *, editing: bool = False) -> Board:
    """The board with this code, with its shop and client, in one query.

    404 for a stranger, 403 for a viewer when `editing`.  `board.is_editable` says whether this person's
    pages show what changes it.
    """
    if not isinstance(person, Person):
        raise Http404
    memberships = Membership.objects.filter(person=person, shop=OuterRef("shop"))
    board = (
        Board.objects.select_related("shop", "client")
        .annotate(role=Subquery(memberships.values("role")))
        .filter(code=clean_code(code), role__isnull=False)
        .first()
    )
    if board is None:
        raise Http404
    check_role(Membership(person=person, shop=board.shop, role=board.role), editing=editing)
    board.is_editable = board.role in Membership.EDITING_ROLES
    return board
