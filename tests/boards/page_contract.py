"""What every page of a board keeps when it is looked at."""

from html.parser import HTMLParser
from typing import Any, ClassVar

import pytest
from django.test import Client as Browser
from django.urls import reverse

from boardshop.boards.models import Board
from tests.board_factories import make_board
from tests.boards.contract import HTMX, normal, part_of
from tests.factories import Cast


class Ids(HTMLParser):
    """Every id of a page, and every place that points to one."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.ids: list[str] = []
        self.wanted: list[str] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        for name, value in attrs:
            if name == "id":
                self.ids.append(value or "")
            elif name in ("for", "aria-labelledby", "form"):
                self.wanted += (value or "").split()
            elif (name == "href" or name.startswith("hx-target")) and str(value).startswith("#"):
                self.wanted.append(str(value)[1:])


@pytest.mark.django_db
class PageContract:
    name: ClassVar[str]
    most_queries: ClassVar[int] = 9
    has_part: ClassVar[bool] = True

    @pytest.fixture
    def board(self, cast: Cast) -> Board:
        return make_board(cast.shop)

    def url(self, board: Board) -> str:
        return reverse(self.name, args=[board.code])

    def test_everybody_of_the_shop_sees_it(self, cast: Cast, board: Board) -> None:
        for role in ("owner", "editor", "viewer"):
            answer = cast.browser(role).get(self.url(board))
            assert answer.status_code == 200
            assert board.name in answer.text

    def test_a_stranger_gets_404(self, cast: Cast, board: Board) -> None:
        assert cast.browser("stranger").get(self.url(board)).status_code == 404

    def test_an_unknown_code_is_404(self, cast: Cast, board: Board) -> None:
        url = self.url(board).replace(board.code, "22222")
        assert cast.browser("editor").get(url).status_code == 404

    def test_a_code_is_read_as_people_write_it(self, cast: Cast, board: Board) -> None:
        url = self.url(board).replace(board.code, board.code.lower())
        assert cast.browser("viewer").get(url).status_code == 200

    def test_a_viewer_is_offered_no_edit(self, cast: Cast, board: Board) -> None:
        text = part_of(cast.browser("viewer").get(self.url(board)).text).partition('<footer class="foot"')[0]
        assert 'method="post"' not in text

    def test_every_id_stands_once_and_every_one_pointed_to_is_there(self, cast: Cast, board: Board) -> None:
        found = Ids(cast.browser("editor").get(self.url(board)).text)
        assert sorted(found.ids) == sorted(set(found.ids))
        assert set(found.wanted) - set(found.ids) == set()

    def test_the_part_stands_in_the_page(self, cast: Cast, board: Board) -> None:
        browser = cast.browser("editor")
        part = browser.get(self.url(board), headers=HTMX)
        assert "<html" not in part.text
        assert "HX-Request" in part["Vary"]
        assert part_of(browser.get(self.url(board)).text).startswith(normal(part.text))

    @pytest.mark.parametrize("pedals", [1, 18])
    def test_its_queries_do_not_grow_with_the_board(
        self, cast: Cast, pedals: int, django_assert_max_num_queries: Any
    ) -> None:
        board, browser = make_board(cast.shop, pedals), cast.browser("editor")
        with django_assert_max_num_queries(self.most_queries):
            browser.get(self.url(board))

    def test_an_empty_board_is_no_crash(self, cast: Cast) -> None:
        board = make_board(cast.shop, 0, supplies=(), sources=(), amps=(), links=())
        assert cast.browser("editor").get(self.url(board)).status_code == 200

    def test_the_counts_stand_above_everything_that_is_edited(self, cast: Cast, board: Board) -> None:
        text = part_of(cast.browser("viewer").get(self.url(board)).text)
        counts = text.index('<div class="counts" id="counts"')
        assert counts < min(at for tag in ("<h2", "<form", "<section") if (at := text.find(tag)) >= 0)
        assert '<a href="#findings">' in text[counts : counts + 100]
        assert ' id="findings"' in text

    def test_the_counts_come_back_with_the_part_and_are_read_out_once(self, cast: Cast, board: Board) -> None:
        part = cast.browser("editor").get(self.url(board), headers=HTMX).text
        assert part.count("data-announce") == 1
        assert 'id="counts" data-announce' in part

    def test_what_people_typed_stays_text(self, cast: Cast, board: Board) -> None:
        Board.objects.update(name="<img src=x onerror=alert(1)>")
        assert "<img src=x" not in cast.browser("editor").get(self.url(board)).text

    def test_other_methods_are_refused(self, cast: Cast, board: Board) -> None:
        assert cast.browser("editor").post(self.url(board)).status_code == 405


def pressing(browser: Browser, url: str) -> list[str]:
    """The rules of the findings that press, worst first."""
    return [row.rule for row in browser.get(url).context["findings"].pressing]
