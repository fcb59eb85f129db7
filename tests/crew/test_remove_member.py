import pytest
from django.urls import reverse

from boardshop.crew.models import Person
from tests.crew.shops import audit_of, member, role_of
from tests.factories import Cast, make_client, make_person

pytestmark = pytest.mark.django_db


def url(cast: Cast, role: str) -> str:
    return reverse("remove-member", args=[member(cast, role).pk])


def test_it_asks_first(cast: Cast) -> None:
    assert "Remove" in cast.browser("owner").get(url(cast, "editor")).text
    assert role_of(cast, "editor") == "editor"


def test_who_is_removed_has_no_access_from_then_on(cast: Cast) -> None:
    one = make_client(cast.shop)
    pages = [reverse("boards"), reverse("gear"), reverse("people"), reverse("change-client", args=[one.pk])]
    browser = cast.browser("editor")
    assert {browser.get(page).status_code for page in pages} == {200}
    assert cast.browser("owner").post(url(cast, "editor")).url == reverse("people")
    assert {browser.get(page).status_code for page in pages} == {404}
    assert browser.post(pages[-1], {"name": "Taken"}).status_code == 404
    assert Person.objects.filter(pk=cast.editor.pk).exists()
    assert audit_of(cast.shop) == [("member-removed", f"{cast.editor}, editor")]


def test_the_last_owner_stays(cast: Cast) -> None:
    answer = cast.browser("owner").post(url(cast, "owner"))
    assert answer.status_code == 409
    assert "hand it over" in answer.text
    assert role_of(cast, "owner") == "owner"


def test_twice_is_not_found_the_second_time(cast: Cast) -> None:
    address = url(cast, "editor")
    assert cast.browser("owner").post(address).status_code == 302
    assert cast.browser("owner").post(address).status_code == 404


def test_what_was_typed_for_the_shop_one_was_removed_from_is_not_stored_in_another(cast: Cast) -> None:
    person = make_person(cast.shop, "editor")
    other = make_person().memberships.model.objects.create(
        shop=cast.stranger.memberships.get().shop, person=person, role="editor"
    )
    browser = cast.browser("owner")
    browser.force_login(person)
    browser.get(reverse("add-client"))
    person.memberships.get(shop=cast.shop).delete()
    answer = browser.post(reverse("add-client"), {"name": "Zora", "kind": "artist"})
    assert answer.status_code == 409
    assert f"work in {other.shop}" in answer.text
    assert not other.shop.clients.exists()
    # The next page is of the shop that is left, and its forms are taken.
    assert browser.get(reverse("add-client"), follow=True).status_code == 200
    assert browser.post(reverse("add-client"), {"name": "Zora", "kind": "artist"}).status_code == 302
    assert other.shop.clients.exists()


@pytest.mark.parametrize("role", ["editor", "viewer"])
def test_nobody_else_may(cast: Cast, role: str) -> None:
    assert cast.browser(role).get(url(cast, "viewer")).status_code == 403
    assert cast.browser(role).post(url(cast, "viewer")).status_code == 403
    assert role_of(cast, "viewer") == "viewer"


def test_a_stranger_gets_404(cast: Cast) -> None:
    assert cast.browser("stranger").post(url(cast, "viewer")).status_code == 404


def test_remove_member_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("owner").put(url(cast, "viewer")).status_code == 405
