import pytest
from django.urls import reverse

from boardshop.boards.errors import NameMissing
from boardshop.boards.models import Board
from boardshop.boards.services import boards as services
from tests.board_factories import plan_of
from tests.factories import Cast, make_client, make_frame_model

pytestmark = pytest.mark.django_db
URL = reverse("begin-board")
TYPED = {"name": "Nightjar main", "width": "60 cm", "depth": "320"}


def test_a_board_on_a_typed_frame(cast: Cast) -> None:
    artist = make_client(cast.shop)
    answer = cast.browser("editor").post(URL, TYPED | {"client": artist.pk})
    board = Board.objects.get()
    assert answer.url == f"/boards/{board.code}"
    assert (board.shop, board.client, board.frame.width, board.frame.depth) == (cast.shop, artist, 600, 320)


def test_a_board_on_a_frame_of_the_catalogue(cast: Cast) -> None:
    frame = make_frame_model(cast.shop, width=780, depth=380, rails=[{"from": 0, "to": 70}])
    cast.browser("editor").post(URL, {"name": "Nightjar main", "frame": frame.pk})
    board = Board.objects.get()
    assert board.frame.model == frame
    assert (plan_of(board).frame.width, plan_of(board).frame.rails[0].to_y) == (780, 70)


@pytest.mark.parametrize(
    ("wrong", "field", "said"),
    [
        ({"name": ""}, "name", "required"),
        ({"name": "x" * 81}, "name", "at most 80"),
        ({"width": ""}, "width", "type its width and depth"),
        ({"depth": "0"}, "depth", "above zero"),
        ({"depth": "deep"}, "depth", "no length"),
        ({"frame": "77"}, "frame", "valid choice"),
        ({"name": "a\0b"}, "name", "Null characters"),
    ],
)
def test_what_is_wrong_stands_beside_its_field_and_the_rest_is_kept(
    cast: Cast, wrong: dict[str, str], field: str, said: str
) -> None:
    answer = cast.browser("editor").post(URL, TYPED | wrong)
    assert answer.status_code == 422
    assert said in answer.context["begin_form"].errors[field][0]
    assert 'value="60 cm"' in answer.text or "width" in wrong
    assert not Board.objects.exists()


def test_another_shops_client_is_refused(cast: Cast) -> None:
    other = make_client(cast.stranger.shops.get())
    assert cast.browser("editor").post(URL, TYPED | {"client": other.pk}).status_code == 422


def test_a_viewer_gets_403(cast: Cast) -> None:
    assert cast.browser("viewer").post(URL, TYPED).status_code == 403
    assert not Board.objects.exists()


def test_a_stranger_begins_in_their_own_shop(cast: Cast) -> None:
    cast.browser("stranger").post(URL, TYPED)
    assert Board.objects.get().shop != cast.shop


def test_begin_board_refuses_get(cast: Cast) -> None:
    assert cast.browser("editor").get(URL).status_code == 405


def refuse(*_args: object, **_values: object) -> None:
    raise NameMissing


def test_what_the_service_refuses_leaves_what_was_typed(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> None:
    """As when the tables refuse what the form let pass."""
    monkeypatch.setattr(services, "begin_board", refuse)
    answer = cast.browser("editor").post(URL, TYPED)
    assert answer.status_code == 422
    assert "A board needs a name" in answer.context["begin_form"].errors["name"][0]
    assert 'value="60 cm"' in answer.text
