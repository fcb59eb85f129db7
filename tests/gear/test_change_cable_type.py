import pytest
from django.urls import reverse

from boardshop.gear.models import CableType
from boardshop.gear.services.keeping import mark_of
from boardshop.gear.shelves import cable_record
from tests.factories import Cast, make_cable_type

pytestmark = pytest.mark.django_db


@pytest.fixture
def row(cast: Cast) -> CableType:
    return make_cable_type(cast.shop, name="Low", pf_per_m=60)


@pytest.fixture
def url(row: CableType) -> str:
    return reverse("change-cable-type", args=[row.pk])


def typed(row: CableType, **change: str) -> dict[str, str]:
    return {"name": "Low", "pf_per_m": "60"} | {"seen": mark_of(cable_record(row))} | change


def test_an_editor_changes_it(cast: Cast, row: CableType, url: str) -> None:
    assert cast.browser("editor").post(url, typed(row, pf_per_m="75", diameter="1/4 in")).status_code == 302
    row.refresh_from_db()
    assert (row.pf_per_m, float(row.diameter)) == (75, 6.35)


def test_the_page_shows_what_is_stored(cast: Cast, row: CableType, url: str) -> None:
    form = cast.browser("editor").get(url).context["form"]
    assert form["seen"].value() == mark_of(cable_record(row))


def test_what_somebody_changed_meanwhile_is_not_overwritten(cast: Cast, row: CableType, url: str) -> None:
    old = typed(row, pf_per_m="75", diameter="1/4 in")
    CableType.objects.update(cores=2)
    answer = cast.browser("editor").post(url, old)
    assert answer.status_code == 409
    assert (
        cast.browser("editor").post(url, old | {"seen": answer.context["form"]["seen"].value()}).status_code
        == 302
    )


def test_invalid_input_keeps_what_was_typed(cast: Cast, row: CableType, url: str) -> None:
    answer = cast.browser("editor").post(url, typed(row, pf_per_m="much", name="New"))
    assert answer.status_code == 422
    assert all(
        answer.context["form"][name].value() == value
        for name, value in {"pf_per_m": "much", "name": "New"}.items()
    )


def test_a_stranger_gets_404(cast: Cast, row: CableType, url: str) -> None:
    assert cast.browser("stranger").get(url).status_code == 404
    assert cast.browser("stranger").post(url, typed(row)).status_code == 404


def test_a_viewer_gets_403(cast: Cast, row: CableType, url: str) -> None:
    assert cast.browser("viewer").post(url, typed(row)).status_code == 403


def test_change_cable_type_refuses_other_methods(cast: Cast, url: str) -> None:
    assert cast.browser("editor").put(url).status_code == 405
