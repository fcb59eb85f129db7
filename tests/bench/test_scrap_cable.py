import pytest
from django.urls import reverse
from django.utils import timezone

from boardshop.boards.models import Change
from boardshop.boards.services.made_cables import link_of
from tests.board_factories import make_board
from tests.cable_factories import fresh, make_cable, make_tested, put
from tests.factories import Cast

pytestmark = pytest.mark.django_db


def url(cable: object) -> str:
    return reverse("scrap-cable", args=[str(cable)])


def test_it_comes_off_its_board_and_keeps_its_id(cast: Cast) -> None:
    board, cable = make_board(cast.shop, 2), make_tested(cast.shop, cast.editor)
    put(cable, board, "W2", cast.editor)
    browser = cast.browser("editor")
    assert "It is W2 of board Nightjar main now." in browser.get(url(cable)).text
    text = browser.post(url(cable), {"why": "core broken"}, follow=True).text
    assert "is on the scrap; its id stays its own" in text
    assert link_of(cable) is None
    assert (fresh(cable).scrapped_on, fresh(cable).scrapped_why) == (timezone.localdate(), "core broken")
    said = Change.objects.filter(board=board).order_by("-number")[0].sentences[0]
    assert said == f"Cable {cable.code} was scrapped: core broken."


def test_a_reason_is_asked_for(cast: Cast) -> None:
    cable = make_cable(cast.shop)
    answer = cast.browser("editor").post(url(cable), {"why": " "})
    assert (answer.status_code, fresh(cable).is_scrapped) == (422, False)


def test_a_second_time_it_says_when_it_was_scrapped(cast: Cast) -> None:
    cable = make_cable(cast.shop)
    for status in (302, 422):
        answer = cast.browser("editor").post(url(cable), {"why": "core broken"})
        assert answer.status_code == status
    assert "was scrapped on" in answer.text


def test_a_viewer_gets_403_and_a_stranger_404(cast: Cast) -> None:
    cable = make_cable(cast.shop)
    assert cast.browser("viewer").post(url(cable)).status_code == 403
    assert cast.browser("stranger").post(url(cable)).status_code == 404


def test_scrap_cable_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").delete(url(make_cable(cast.shop))).status_code == 405
