import pytest
from django.urls import reverse

from boardshop.gear.models import ReadyMade
from boardshop.gear.services.keeping import mark_of
from boardshop.gear.shelves import ready_made_record
from tests.factories import Cast, make_ready_made
from tests.gear.forms import apply, dry_run, verdicts

pytestmark = pytest.mark.django_db


@pytest.fixture
def row(cast: Cast) -> ReadyMade:
    return make_ready_made(cast.shop, name="Flat patch 15", length=150, count=2)


@pytest.fixture
def url(row: ReadyMade) -> str:
    return reverse("change-ready-made", args=[row.pk])


def typed(row: ReadyMade, **change: str) -> dict[str, str]:
    shown = {"name": "Flat patch 15", "length": "150", "count": "2"}
    return shown | {"seen": mark_of(ready_made_record(row))} | change


def test_an_editor_changes_it(cast: Cast, row: ReadyMade, url: str) -> None:
    cast.browser("editor").post(url, typed(row, count="0", price="8"))
    row.refresh_from_db()
    assert (row.count, row.price) == (0, 8)


def test_what_somebody_changed_meanwhile_is_not_overwritten(cast: Cast, row: ReadyMade, url: str) -> None:
    old = typed(row, price="8")
    ReadyMade.objects.update(count=1)
    assert cast.browser("editor").post(url, old).status_code == 409
    row.refresh_from_db()
    assert (row.count, row.price) == (1, None)


def test_invalid_input_keeps_what_was_typed(cast: Cast, row: ReadyMade, url: str) -> None:
    answer = cast.browser("editor").post(url, typed(row, length="long"))
    assert answer.status_code == 422
    assert 'value="long"' in answer.text


def test_a_list_as_people_write_it_comes_in(cast: Cast) -> None:
    browser = cast.browser("editor")
    table = "Product;Length cm;Plug;Far plug;Price;Qty\nPatch 15;15;1/4 in TS;6.3 TS;9,80;3\n"
    table += "Patch 30;30;6.35 TS;;;\n"
    answer = dry_run(browser, "ready-made", table)
    assert verdicts(answer) == ["new", "new"]
    apply(browser, "ready-made", answer)
    assert [(one.name, one.length, one.count) for one in ReadyMade.objects.all()] == [
        ("Patch 15", 150, 3),
        ("Patch 30", 300, 0),
    ]


def test_a_slipped_unit_in_a_table_is_asked_about(cast: Cast) -> None:
    answer = dry_run(cast.browser("editor"), "ready-made", "name,length mm\nPatch 15,150 m\n")
    assert "150 m is unusually long" in answer.text


def test_a_stranger_gets_404(cast: Cast, row: ReadyMade, url: str) -> None:
    assert cast.browser("stranger").post(url, typed(row)).status_code == 404


def test_a_viewer_gets_403(cast: Cast, row: ReadyMade, url: str) -> None:
    assert cast.browser("viewer").post(url, typed(row)).status_code == 403


def test_change_ready_made_refuses_other_methods(cast: Cast, url: str) -> None:
    assert cast.browser("editor").put(url).status_code == 405
