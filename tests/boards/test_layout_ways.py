import re

import pytest
from django.urls import reverse

from tests.board_factories import make_board
from tests.boards.searches import PLACING, answered
from tests.factories import Cast, make_frame_model

WAYS = ("layout", "place-for-me", "which-frame")


@pytest.mark.django_db
@pytest.mark.parametrize("name", [*WAYS, "underside", "side-view"])
def test_every_page_of_the_layout_leads_to_its_ways(cast: Cast, name: str) -> None:
    board = make_board(cast.shop)
    text = cast.browser("viewer").get(reverse(name, args=[board.code])).text
    assert [way for way in WAYS if f'href="{reverse(way, args=[board.code])}"' not in text] == []


@pytest.mark.django_db
@pytest.mark.parametrize(("wanted", "name"), [("all", "place-for-me"), ("frames", "which-frame")])
def test_the_page_of_a_search_stands_under_where_it_was_asked_for(cast: Cast, wanted: str, name: str) -> None:
    make_frame_model(cast.shop)
    board = make_board(cast.shop)
    search = answered(board, PLACING, wanted=wanted)
    text = cast.browser("viewer").get(reverse("show-search", args=[board.code, search.pk])).text
    nav = text[text.index("sub-nav") :].partition("</nav>")[0]
    assert re.findall(r'href="([^"]*)" aria-current="page"', nav) == [reverse(name, args=[board.code])]
