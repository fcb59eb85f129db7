"""The only way from a person to a board."""

from django.db.models import Count, F, OuterRef, Q, QuerySet, Subquery
from django.db.models.fetch_modes import FETCH_RAISE
from django.http import Http404
from django.utils.text import smart_split

from boardshop.boards.codes import clean_code
from boardshop.boards.models import Board, Change, Revision
from boardshop.crew.access import Visitor, check_role, get_shop_for
from boardshop.crew.models import Membership, Person


def get_board_for(person: Visitor, code: str, *, editing: bool = False, with_trash: bool = False) -> Board:
    """One board by its code, with its shop, client and frame, in one query; its edits are this person's.

    404 for a stranger, 403 for a viewer when `editing`.  One in the trash is found only `with_trash`.
    """
    if not isinstance(person, Person):
        raise Http404
    role = Membership.objects.filter(person=person, shop=OuterRef("shop")).values("role")
    found = Board.with_trash if with_trash else Board.objects
    boards = found.select_related("shop", "client", "frame").annotate(role=Subquery(role))
    board = boards.filter(code=clean_code(code), role__isnull=False).first()
    if board is None:
        raise Http404
    check_role(Membership(person=person, shop=board.shop, role=board.role), editing=editing)
    board.person = person
    return board


def get_revision(board: Board, number: int | str) -> Revision:
    """One of this board's own, by its number as an address writes it; 404 for any other."""
    written = str(number)
    found = written.isascii() and written.isdecimal() and len(written) < 10
    revision = board.revisions.filter(number=int(written)).first() if found else None
    if revision is None:
        raise Http404
    return revision


def last_released(board: Board) -> Revision | None:
    """What is on stage, without its rows and report; None for a board that was never released."""
    return board.revisions.defer("report", "state").first()


def may_change(board: Board) -> bool:
    """Whether the person for whom the board was got may change it."""
    return getattr(board, "role", None) in Membership.EDITING_ROLES


def boards_for(person: Visitor) -> QuerySet[Board]:
    """The boards of the person's shop, by name."""
    return Board.objects.filter(shop=get_shop_for(person))


def list_boards(person: Visitor, text: str) -> QuerySet[Board]:
    """What the board list shows: those that match, each with its client, its number of pedals, the number of
    the revision on stage (None = never released) and whether the working copy was edited since."""
    last_release = Revision.objects.filter(board=OuterRef("pk"))
    last_change = Change.objects.filter(board=OuterRef("pk")).order_by("-number")
    return (
        find_boards(boards_for(person), text)
        .select_related("client")
        .annotate(pedals=Count("items__placement"))
        .annotate(
            on_stage=Subquery(last_release.values("number")[:1]),
            released_digest=Subquery(last_release.values("digest")[:1]),
            released_edit=Subquery(last_release.values("edit_number")[:1]),
            digest=Subquery(last_change.values("digest")[:1]),
        )
        .annotate(is_as_released=Q(edit_number=F("released_edit")) | Q(digest=F("released_digest")))
        .order_by("name", "pk")
        .fetch_mode(FETCH_RAISE)
    )


def find_boards(boards: QuerySet[Board], text: str) -> QuerySet[Board]:
    """Those in which every word of the text stands somewhere; a word in quotes may hold spaces.

    Looked for in the board's code and name, its artist or customer, the names and makers of its pedals and
    supplies, and their serials.
    """
    words = (word.strip("\"' ") for word in smart_split(text))
    for word in filter(None, words):
        boards = boards.filter(pk__in=Board.objects.filter(_stands_in(word)).values("pk"))
    return boards


def _stands_in(word: str) -> Q:
    found = Q(name__icontains=word) | Q(client__name__icontains=word)
    if code := clean_code(word):
        found |= Q(code__startswith=code)
    for item in ("items__placement", "items__supplyplacement"):
        for column in ("model__name", "model__maker", "unit__serial"):
            found |= Q(**{f"{item}__{column}__icontains": word})
    return found
