import pytest
from django.urls import reverse

from boardshop.gear.models import FrameModel
from boardshop.gear.services.keeping import mark_of
from boardshop.gear.shelves import frame_record
from tests.factories import Cast, make_frame_model

pytestmark = pytest.mark.django_db


@pytest.fixture
def row(cast: Cast) -> FrameModel:
    return make_frame_model(cast.shop, name="600")


@pytest.fixture
def url(row: FrameModel) -> str:
    return reverse("change-frame-model", args=[row.pk])


def typed(row: FrameModel, **change: str) -> dict[str, str]:
    return (
        {"name": "600", "width": "600", "depth": "320", "surface": "flat"}
        | {"seen": mark_of(frame_record(row))}
        | change
    )


def test_an_editor_changes_it(cast: Cast, row: FrameModel, url: str) -> None:
    assert (
        cast.browser("editor")
        .post(url, typed(row, rails="20 to 90; 110 to 180", under_front="18", under_rear="62,5"))
        .status_code
        == 302
    )
    row.refresh_from_db()
    assert ([band["to"] for band in row.rails], float(row.under_rear)) == ([90, 180], 62.5)


def test_the_page_shows_what_is_stored(cast: Cast, row: FrameModel, url: str) -> None:
    form = cast.browser("editor").get(url).context["form"]
    assert form["seen"].value() == mark_of(frame_record(row))


def test_what_somebody_changed_meanwhile_is_not_overwritten(cast: Cast, row: FrameModel, url: str) -> None:
    old = typed(row, rails="20 to 90; 110 to 180", under_front="18", under_rear="62,5")
    FrameModel.objects.update(weight=3000)
    answer = cast.browser("editor").post(url, old)
    assert answer.status_code == 409
    assert (
        cast.browser("editor").post(url, old | {"seen": answer.context["form"]["seen"].value()}).status_code
        == 302
    )


def test_invalid_input_keeps_what_was_typed(cast: Cast, row: FrameModel, url: str) -> None:
    answer = cast.browser("editor").post(url, typed(row, rails="90 to 20", maker="Fjord"))
    assert answer.status_code == 422
    assert all(
        answer.context["form"][name].value() == value
        for name, value in {"rails": "90 to 20", "maker": "Fjord"}.items()
    )


def test_a_stranger_gets_404(cast: Cast, row: FrameModel, url: str) -> None:
    assert cast.browser("stranger").get(url).status_code == 404
    assert cast.browser("stranger").post(url, typed(row)).status_code == 404


def test_a_viewer_gets_403(cast: Cast, row: FrameModel, url: str) -> None:
    assert cast.browser("viewer").post(url, typed(row)).status_code == 403


def test_change_frame_model_refuses_other_methods(cast: Cast, url: str) -> None:
    assert cast.browser("editor").put(url).status_code == 405
