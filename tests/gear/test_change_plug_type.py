import pytest
from django.urls import reverse

from boardshop.gear.models import PlugType
from boardshop.gear.services.keeping import mark_of
from boardshop.gear.shelves import plug_record
from tests.factories import Cast, make_plug_type

pytestmark = pytest.mark.django_db


@pytest.fixture
def row(cast: Cast) -> PlugType:
    return make_plug_type(cast.shop, name="Pancake", reach=13)


@pytest.fixture
def url(row: PlugType) -> str:
    return reverse("change-plug-type", args=[row.pk])


def typed(row: PlugType, **change: str) -> dict[str, str]:
    return {"name": "Pancake", "reach": "13"} | {"seen": mark_of(plug_record(row))} | change


def test_an_editor_changes_it(cast: Cast, row: PlugType, url: str) -> None:
    assert (
        cast.browser("editor").post(url, typed(row, reach="1/2 in", connector="6.35 TS")).status_code == 302
    )
    row.refresh_from_db()
    assert (row.reach, row.connector) == (13, "6.35 TS")


def test_the_page_shows_what_is_stored(cast: Cast, row: PlugType, url: str) -> None:
    form = cast.browser("editor").get(url).context["form"]
    assert form["seen"].value() == mark_of(plug_record(row))


def test_what_somebody_changed_meanwhile_is_not_overwritten(cast: Cast, row: PlugType, url: str) -> None:
    old = typed(row, reach="1/2 in", connector="6.35 TS")
    PlugType.objects.update(width=22)
    answer = cast.browser("editor").post(url, old)
    assert answer.status_code == 409
    assert (
        cast.browser("editor").post(url, old | {"seen": answer.context["form"]["seen"].value()}).status_code
        == 302
    )


def test_invalid_input_keeps_what_was_typed(cast: Cast, row: PlugType, url: str) -> None:
    answer = cast.browser("editor").post(url, typed(row, reach="0", name="New"))
    assert answer.status_code == 422
    assert all(
        answer.context["form"][name].value() == value for name, value in {"reach": "0", "name": "New"}.items()
    )


def test_a_stranger_gets_404(cast: Cast, row: PlugType, url: str) -> None:
    assert cast.browser("stranger").get(url).status_code == 404
    assert cast.browser("stranger").post(url, typed(row)).status_code == 404


def test_a_viewer_gets_403(cast: Cast, row: PlugType, url: str) -> None:
    assert cast.browser("viewer").post(url, typed(row)).status_code == 403


def test_change_plug_type_refuses_other_methods(cast: Cast, url: str) -> None:
    assert cast.browser("editor").put(url).status_code == 405
