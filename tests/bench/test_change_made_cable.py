import pytest
from django.urls import reverse

from tests.board_factories import make_board
from tests.cable_factories import BAD, fresh, make_cable, make_tested, put, read
from tests.factories import Cast

pytestmark = pytest.mark.django_db


def url(cable: object) -> str:
    return reverse("change-made-cable", args=[str(cable)])


def typed(cast: Cast, cable: object, **change: str) -> dict[str, str]:
    form = cast.browser("editor").get(url(cable)).context["form"]
    shown = {bound.name: bound.value() for bound in form}
    return {name: "" if value is None else str(value) for name, value in shown.items()} | change


def test_words_change_also_on_a_board(cast: Cast) -> None:
    board, cable = make_board(cast.shop, 2), make_tested(cast.shop, cast.editor)
    put(cable, board, "W2", cast.editor)
    assert cast.browser("editor").post(url(cable), typed(cast, cable, note="red sleeve")).status_code == 302
    assert (fresh(cable).note, fresh(cable).verdict) == ("red sleeve", "passed")


def test_what_it_is_stays_while_a_board_has_it(cast: Cast) -> None:
    board, cable = make_board(cast.shop, 2), make_tested(cast.shop, cast.editor)
    put(cable, board, "W2", cast.editor)
    answer = cast.browser("editor").post(url(cable), typed(cast, cable, length="650", note="mine"))
    assert answer.status_code == 422
    assert "W2 of board Nightjar main" in answer.text
    assert answer.context["form"]["note"].value() == "mine"
    assert fresh(cable).length == 700


@pytest.mark.parametrize("change", [{"length": "650"}, {"kind": "stereo"}, {"plug_a": ""}])
def test_what_is_something_else_than_was_tested_is_not_tested(cast: Cast, change: dict[str, str]) -> None:
    make_board(cast.shop, 2)
    cable = make_tested(cast.shop, cast.editor)
    cast.browser("editor").post(url(cable), typed(cast, cable, **change))
    assert (fresh(cable).verdict, fresh(cable).tested_on) == ("", None)


def test_one_that_failed_is_not_made_good_by_a_correction(cast: Cast) -> None:
    cable = make_cable(cast.shop)
    read(cable, BAD, cast.editor)
    cast.browser("editor").post(url(cable), typed(cast, cable, length="650"))
    assert (fresh(cable).length, fresh(cable).verdict) == (650, "failed")


def test_who_comes_second_is_told_and_keeps_what_was_typed(cast: Cast) -> None:
    cable = make_cable(cast.shop)
    mine = typed(cast, cable, note="mine")
    cast.browser("owner").post(url(cable), typed(cast, cable, note="theirs"))
    answer = cast.browser("editor").post(url(cable), mine)
    assert answer.status_code == 409
    assert answer.context["form"]["note"].value() == "mine"
    assert fresh(cable).note == "theirs"


def test_a_wrong_length_is_told(cast: Cast) -> None:
    cable = make_cable(cast.shop)
    answer = cast.browser("editor").post(url(cable), typed(cast, cable, length="-3"))
    assert (answer.status_code, "below zero" in answer.text) == (422, True)


def test_a_viewer_gets_403_and_a_stranger_404(cast: Cast) -> None:
    cable = make_cable(cast.shop)
    assert cast.browser("viewer").post(url(cable)).status_code == 403
    assert cast.browser("stranger").post(url(cable)).status_code == 404


def test_change_made_cable_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").delete(url(make_cable(cast.shop))).status_code == 405
