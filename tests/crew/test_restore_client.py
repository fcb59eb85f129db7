from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from boardshop.crew.clients import delete_client, purge_clients
from boardshop.crew.models import Client
from boardshop.crew.trash import KEPT_DAYS, kept_since
from boardshop.gear.services import delete_gear
from tests.factories import Cast, make_client, make_unit

pytestmark = pytest.mark.django_db


def trashed(client: Client, days: int = 0) -> Client:
    delete_client(client)
    Client.with_trash.filter(pk=client.pk).update(trashed_at=timezone.now() - timedelta(days=days))
    return client


@pytest.fixture
def client_row(cast: Cast) -> Client:
    return trashed(make_client(cast.shop, name="Zora", contact="+00 1"))


@pytest.fixture
def url(client_row: Client) -> str:
    return reverse("restore-client", args=[client_row.pk])


def test_the_trash_shows_it_and_puts_it_back_as_it_was(cast: Cast, url: str) -> None:
    browser = cast.browser("editor")
    page = browser.get(reverse("trash")).text
    assert "Artists and customers" in page
    assert url in page
    answer = browser.post(url)
    assert answer.url == reverse("trash")
    assert "Zora is back on the list" in browser.get(answer.url).text
    row = Client.objects.get()
    assert (row.contact, row.trashed_at, row.trashed_by) == ("+00 1", None, None)


@pytest.mark.parametrize(
    ("back", "where"), [("/clients", "/clients"), ("//elsewhere.example", "/trash"), ("x", "/trash")]
)
def test_it_leads_back_to_where_the_button_stood(cast: Cast, url: str, back: str, where: str) -> None:
    assert cast.browser("editor").post(url, {"back": back}).url == where


def test_a_name_in_the_trash_is_free_and_refused_when_taken_since(cast: Cast, url: str) -> None:
    make_client(cast.shop, name="ZORA")
    answer = cast.browser("editor").post(url)
    assert answer.status_code == 422
    assert "Rename that one" in answer.text
    assert Client.objects.get().name == "ZORA"


@pytest.mark.parametrize(("days", "status"), [(KEPT_DAYS - 1, 302), (KEPT_DAYS + 1, 422)])
def test_it_is_put_back_for_thirty_days(cast: Cast, days: int, status: int) -> None:
    row = trashed(make_client(cast.shop), days)
    assert cast.browser("editor").post(reverse("restore-client", args=[row.pk])).status_code == status


def test_the_second_put_back_is_refused_on_a_page(cast: Cast, url: str) -> None:
    cast.browser("editor").post(url)
    answer = cast.browser("editor").post(url)
    assert answer.status_code == 422
    assert "no longer in the trash" in answer.text


def test_a_unit_comes_back_after_its_owner(cast: Cast) -> None:
    unit = make_unit(cast.shop, owner=make_client(cast.shop, name="Nils"))
    delete_gear(unit)
    trashed(unit.owner)
    back = reverse("restore-gear", args=["units", unit.pk])
    answer = cast.browser("editor").post(back)
    assert answer.status_code == 422
    assert "belongs to “Nils”" in answer.text
    cast.browser("editor").post(reverse("restore-client", args=[unit.owner.pk]))
    assert cast.browser("editor").post(back).status_code == 302


def test_purging_leaves_the_young_and_whom_something_in_the_trash_needs(cast: Cast) -> None:
    unit = make_unit(cast.shop, owner=make_client(cast.shop, name="Nils"))
    delete_gear(unit)
    trashed(unit.owner, KEPT_DAYS + 1)
    trashed(make_client(cast.shop, name="Old"), KEPT_DAYS + 1)
    trashed(make_client(cast.shop, name="Young"), KEPT_DAYS - 1)
    assert purge_clients(kept_since()) == (1, ["Nils"])
    assert sorted(Client.with_trash.values_list("name", flat=True)) == ["Nils", "Young"]


def test_a_stranger_gets_404_and_a_viewer_403(cast: Cast, url: str) -> None:
    assert cast.browser("stranger").post(url).status_code == 404
    assert cast.browser("viewer").post(url).status_code == 403
    assert url not in cast.browser("viewer").get(reverse("trash")).text


def test_restore_client_refuses_other_methods(cast: Cast, url: str) -> None:
    assert cast.browser("editor").get(url).status_code == 405
