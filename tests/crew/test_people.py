import pytest
from django.urls import reverse

from boardshop.crew.models import Membership
from tests.crew.shops import invite, member
from tests.factories import Cast

pytestmark = pytest.mark.django_db
URL = reverse("people")


@pytest.mark.parametrize("role", ["owner", "editor", "viewer"])
def test_everybody_of_the_shop_sees_all_its_people(cast: Cast, role: str) -> None:
    text = cast.browser(role).get(URL).text
    for one in ("owner", "editor", "viewer"):
        assert getattr(cast, one).username in text
    assert cast.stranger.username not in text


def test_since_when_is_told_or_said_to_be_unknown(cast: Cast) -> None:
    one = member(cast, "editor")
    assert one.since is not None
    assert f"{one.since:%Y-%m-%d}" in cast.browser("viewer").get(URL).text
    Membership.objects.filter(pk=one.pk).update(since=None)
    assert "not recorded" in cast.browser("viewer").get(URL).text


@pytest.mark.parametrize("role", ["editor", "viewer"])
def test_only_an_owner_gets_the_forms_and_the_open_links(cast: Cast, role: str) -> None:
    invite(cast, for_whom="Nils on bass")
    assert "Nils on bass" in cast.browser("owner").get(URL).text
    text = cast.browser(role).get(URL).text
    assert "Nils on bass" not in text
    assert reverse("make-invitation") not in text


def test_a_stranger_sees_their_own_people(cast: Cast) -> None:
    assert cast.owner.username not in cast.browser("stranger").get(URL).text


def test_the_queries_do_not_grow(cast: Cast, django_assert_num_queries) -> None:
    for _ in range(9):
        invite(cast)
    browser = cast.browser("owner")
    # Session, person, membership, members, open links, the person's shops twice: page and masthead.
    with django_assert_num_queries(7):
        browser.get(URL)


def test_people_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("owner").post(URL).status_code == 405
