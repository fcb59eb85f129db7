import pytest
from django.urls import reverse

from boardshop.crew.models import Person
from tests.crew.shops import audit_of, invite, member, role_of
from tests.factories import Cast, make_person

pytestmark = pytest.mark.django_db
URL = reverse("hand-over-shop")


def test_the_other_becomes_owner_and_oneself_editor(cast: Cast) -> None:
    answer = cast.browser("owner").post(URL, {"member": member(cast, "viewer").pk})
    assert answer.url == reverse("people")
    assert (role_of(cast, "viewer"), role_of(cast, "owner")) == ("owner", "editor")
    assert audit_of(cast.shop) == [("ownership-handed-over", f"to {cast.viewer}, who was viewer")]


def test_it_asks_first_and_changes_nothing_by_that(cast: Cast) -> None:
    assert cast.editor.username in cast.browser("owner").get(URL).text
    assert role_of(cast, "owner") == "owner"


def test_links_of_who_handed_over_open_no_more(cast: Cast) -> None:
    link = invite(cast)
    cast.browser("owner").post(URL, {"member": member(cast, "viewer").pk})
    assert cast.browser("stranger").post(link).status_code == 410


def test_nobody_to_hand_over_to_is_told(cast: Cast) -> None:
    assert "Nobody else is a member" in cast.browser("stranger").get(URL).text


@pytest.mark.parametrize("who", ["nobody", "stranger", "oneself"])
def test_only_to_another_member(cast: Cast, who: str) -> None:
    pk = {"nobody": "", "stranger": cast.stranger.memberships.get().pk, "oneself": member(cast, "owner").pk}
    assert cast.browser("owner").post(URL, {"member": pk[who]}).status_code == 422
    assert role_of(cast, "owner") == "owner"


@pytest.mark.parametrize("role", ["editor", "viewer"])
def test_nobody_else_may(cast: Cast, role: str) -> None:
    assert cast.browser(role).get(URL).status_code == 403
    assert cast.browser(role).post(URL, {"member": member(cast, role).pk}).status_code == 403


def test_a_stranger_hands_over_only_their_own(cast: Cast) -> None:
    cast.browser("stranger").post(URL, {"member": member(cast, "viewer").pk})
    assert role_of(cast, "viewer") == "viewer"


def test_who_belongs_to_no_shop_gets_404(cast: Cast) -> None:
    browser = cast.browser("owner")
    browser.force_login(make_person())
    assert browser.get(URL).status_code == 404


def test_hand_over_shop_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("owner").put(URL).status_code == 405


def test_a_member_whose_account_is_closed_cannot_take_it(cast: Cast) -> None:
    Person.objects.filter(pk=cast.editor.pk).update(is_active=False)
    answer = cast.browser("owner").post(URL, {"member": member(cast, "editor").pk})
    assert answer.status_code == 409
    assert "closed" in answer.text
    assert role_of(cast, "owner") == "owner"
