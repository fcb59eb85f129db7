import re
from datetime import timedelta

import pytest
from django.urls import reverse
from django.utils import timezone

from boardshop.crew.models import Invitation
from boardshop.crew.tokens import digest_of
from tests.crew.shops import audit_of
from tests.factories import Cast

pytestmark = pytest.mark.django_db
URL = reverse("make-invitation")
TYPED = {"role": "editor", "for_whom": "Nils on bass"}


def test_an_owner_gets_a_link_of_which_only_the_digest_is_kept(cast: Cast) -> None:
    answer = cast.browser("owner").post(URL, TYPED)
    found = re.search(r'value="http://testserver/join/([\w-]+)"', answer.text)
    assert found
    invitation = Invitation.objects.get()
    assert (invitation.role, invitation.for_whom) == ("editor", "Nils on bass")
    assert invitation.digest == digest_of(found[1])
    assert audit_of(cast.shop) == [("invitation-made", "editor, Nils on bass")]


def test_the_link_is_shown_once_and_kept_by_no_browser(cast: Cast) -> None:
    browser = cast.browser("owner")
    answer = browser.post(URL, TYPED)
    assert "no-store" in answer["Cache-Control"]
    assert "/join/" not in browser.get(reverse("people")).text


def test_it_opens_for_seven_days(cast: Cast) -> None:
    cast.browser("owner").post(URL, TYPED)
    left = Invitation.objects.get().expires_at - timezone.now()
    assert timedelta(days=6, hours=23) < left <= timedelta(days=7)


@pytest.mark.parametrize("role", ["editor", "viewer"])
def test_nobody_else_may(cast: Cast, role: str) -> None:
    assert cast.browser(role).post(URL, TYPED).status_code == 403
    assert not Invitation.objects.exists()


def test_a_stranger_invites_only_into_their_own_shop(cast: Cast) -> None:
    cast.browser("stranger").post(URL, TYPED)
    assert not Invitation.objects.filter(shop=cast.shop).exists()


@pytest.mark.parametrize(
    "wrong", [{"role": "boss"}, {"role": ""}, {"for_whom": "a" * 81}, {"for_whom": "\u202e"}]
)
def test_what_is_wrong_is_said_beside_the_field(cast: Cast, wrong: dict[str, str]) -> None:
    answer = cast.browser("owner").post(URL, TYPED | wrong)
    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == list(wrong)
    assert not Invitation.objects.exists()


def test_make_invitation_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("owner").get(URL).status_code == 405


def test_a_form_that_is_sent_twice_makes_one_link(cast: Cast) -> None:
    browser = cast.browser("owner")
    answers = [browser.post(URL, TYPED | {"once": "a-token"}) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [200, 302]
    assert Invitation.objects.count() == 1
    assert "shown already" in browser.get(answers[1].url).text


def test_the_page_gives_each_form_a_mark_of_its_own(cast: Cast) -> None:
    pages = [cast.browser("owner").get(reverse("people")).text for _ in range(2)]
    marks = {page.partition('name="once" value="')[2].partition('"')[0] for page in pages}
    assert len(marks - {""}) == 2
