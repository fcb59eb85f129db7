"""What is kept of pages, drawings and plans never shows: after any edit a page is what it is from nothing.

Not only edits of the board: its gear, the shop's unit and who looks may change as well.
"""

import re
from collections.abc import Callable

import pytest
from django.db.models import Value
from django.db.models.functions import Concat
from django.test import Client as Browser
from django.urls import reverse

from boardshop.boards.models import AcceptedFinding, Board, Scene
from boardshop.crew.models import Shop
from boardshop.gear.models import CableType, PedalModel, PlugType, SupplyModel
from tests.board_factories import make_board
from tests.boards.contract import HTMX
from tests.factories import Cast
from tests.memories import forget_all

PAGES = ("order", "layout", "cables", "power", "underside")


class Desk:
    """Somebody at one board: what they do, and what all its pages show then."""

    def __init__(self, browser: Browser, board: Board) -> None:
        self.browser, self.board = browser, board

    def post(self, verb: str, *named: str, **typed: object) -> None:
        number = Board.objects.values_list("edit_number", flat=True).get(pk=self.board.pk)
        address = reverse(verb, args=[self.board.code, *named])
        answer = self.browser.post(address, {"edit": number, **typed}, headers=HTMX)
        assert answer.status_code == 200, answer.text[:300]

    def pages(self, browser: Browser | None = None) -> dict[str, str]:
        """Each page's text without the token, which is another one in every answer."""
        looks, code = browser or self.browser, self.board.code
        found = {name: looks.get(reverse(name, args=[code])) for name in PAGES}
        found["chosen"] = looks.get(reverse("layout", args=[code]), {"open": "P2 S1"})
        return {name: one.text.replace(str(one.context["csrf_token"]), "") for name, one in found.items()}


def accept_one(desk: Desk) -> None:
    page = desk.browser.get(reverse("layout", args=[desk.board.code]))
    found = next(row for row in page.context["sheet"].findings if row.can_be_kept)
    typed = {"rule": found.rule, "subjects": " ".join(found.subjects), "why": "meant so", "page": "board"}
    desk.post("accept-finding", **typed)


def more(column: str) -> Concat:
    """The same name with a word behind it."""
    return Concat(column, Value(" two"))


type Edit = Callable[[Desk], object]

EDITS: dict[str, tuple[Edit, ...]] = {
    "moved by fields and by hand": (
        lambda desk: desk.post("place-pedal", "P2", x=130, y=40, turn=0),
        lambda desk: desk.post("place-bodies", place=["P1=20,44,0", "P3=230,44,0"], open="P1 P3"),
    ),
    "moved back, another one taken off": (
        lambda desk: desk.post("place-bodies", place=["P1=20,10,0", "P3=off"]),
    ),
    "another order, played and fed otherwise": (
        lambda desk: desk.post("move-pedal", "P3", line=0, position=1),
        lambda desk: desk.post("play-pedal", "P2", role="", on="true", use=3),
        lambda desk: desk.post("feed-pedal", "P2.DC", outlet="S1.2@9000", length=400),
    ),
    "unplugged, unfed, undone": (
        lambda desk: desk.post("remove-link", "W2"),
        lambda desk: desk.post("unfeed", "P1.DC"),
        lambda desk: desk.post("undo-change"),
    ),
    "kept on purpose": (accept_one,),
    "another reason, a scene": (
        lambda desk: AcceptedFinding.objects.update(why="heard and liked"),
        lambda desk: Scene.objects.create(board=desk.board, name="Loud", position=0),
    ),
    "other sheets of the same gear": (
        lambda desk: PedalModel.objects.update(name=more("name"), width=91, weight=700),
        lambda desk: SupplyModel.objects.update(name=more("name"), width=200),
    ),
    "other cables and plugs": (
        lambda desk: CableType.objects.update(name=more("name"), pf_per_m=311),
        lambda desk: PlugType.objects.update(reach=31, inside=9),
    ),
    "inches": (lambda desk: Shop.objects.update(length_unit="in"),),
}
"""Not only edits of the board; what stands in the database is all that counts."""


@pytest.fixture
def desk(cast: Cast) -> Desk:
    return Desk(cast.browser("editor"), make_board(cast.shop, 3))


def test_after_every_edit_each_page_is_what_it_is_from_nothing(cast: Cast, desk: Desk) -> None:
    forget_all()
    before = desk.pages()
    for words, edits in EDITS.items():
        for edit in edits:
            edit(desk)
        known = desk.pages()
        assert known != before, f"{words}: no page shows it"
        assert forget_all() > 20
        assert known == desk.pages(), words
        before = known


def test_what_one_person_was_shown_is_not_what_another_gets(cast: Cast, desk: Desk) -> None:
    desk.pages()
    shown = desk.pages(cast.browser("viewer"))
    forget_all()
    assert shown == desk.pages(cast.browser("viewer"))


def test_rows_that_are_known_carry_the_token_and_the_edit_number_of_their_answer(desk: Desk) -> None:
    address = reverse("layout", args=[desk.board.code])
    first = desk.browser.get(address)
    desk.post("place-pedal", "P2", x=130, y=40, turn=0)
    second = desk.browser.get(address)
    for answer, number in ((first, 0), (second, 1)):
        token = str(answer.context["csrf_token"])
        tokens = re.findall(r'name="csrfmiddlewaretoken" value="([^"]*)"', answer.text)
        assert len(tokens) > 8
        assert set(tokens) == {token}
        assert f'name="edit" value="{number}"' in answer.text
        assert f'name="edit" value="{1 - number}"' not in answer.text
