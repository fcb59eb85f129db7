import pytest
from django.urls import reverse

from boardshop.crew.models import Client
from tests.factories import Cast, make_client

pytestmark = pytest.mark.django_db
URL = reverse("add-client")
TYPED = {"name": "Zora Vane", "kind": "artist", "contact": "", "note": "left-handed"}


def test_an_editor_adds_an_artist(cast: Cast) -> None:
    assert cast.browser("editor").post(URL, TYPED).url == reverse("clients")
    kept = Client.objects.get()
    assert (kept.shop, kept.name, kept.note) == (cast.shop, "Zora Vane", "left-handed")


def test_a_viewer_may_not(cast: Cast) -> None:
    assert cast.browser("viewer").post(URL, TYPED).status_code == 403
    assert not Client.objects.exists()


def test_a_stranger_adds_to_their_own_shop_only(cast: Cast) -> None:
    cast.browser("stranger").post(URL, TYPED)
    assert not Client.objects.filter(shop=cast.shop).exists()


@pytest.mark.parametrize(
    "wrong", [{"name": ""}, {"name": "a\0b"}, {"name": "a\u202eb"}, {"name": "x" * 81}, {"kind": "band"}]
)
def test_invalid_input_is_refused_and_kept_in_the_form(cast: Cast, wrong: dict[str, str]) -> None:
    answer = cast.browser("editor").post(URL, TYPED | wrong)
    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == list(wrong)
    assert "left-handed" in answer.text
    assert not Client.objects.exists()


def test_a_name_stands_once_in_a_shop_whatever_its_case(cast: Cast) -> None:
    make_client(cast.shop, name="zora vane")
    answer = cast.browser("editor").post(URL, TYPED)
    assert answer.status_code == 422
    assert "already has an artist or customer named Zora Vane" in answer.context["form"].errors["name"][0]


def test_another_shop_may_have_the_same_name(cast: Cast) -> None:
    make_client(cast.shop, name="Zora Vane")
    assert cast.browser("stranger").post(URL, TYPED).status_code == 302


def test_add_client_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").delete(URL).status_code == 405
