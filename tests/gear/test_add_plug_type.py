import pytest
from django.urls import reverse

from boardshop.gear.models import PlugType
from tests.factories import Cast

pytestmark = pytest.mark.django_db
URL = reverse("add-plug-type")
TYPED = {
    "name": "Pancake",
    "connector": "6.35 TS",
    "reach": "1/2 in",
    "width": "22",
    "inside": "0",
    "price": "",
}


def test_a_plug_type_is_kept(cast: Cast) -> None:
    assert cast.browser("editor").post(URL, TYPED).url == reverse("gear") + "?kind=plugs"
    plug = PlugType.objects.get()
    assert (plug.connector, plug.reach, plug.width, plug.inside, plug.price) == ("6.35 TS", 13, 22, 0, None)


@pytest.mark.parametrize(
    ("change", "says"),
    [({"name": ""}, "is needed"), ({"width": "0"}, "above zero"), ({"connector": "bayonet"}, "bayonet")],
)
def test_a_fault_is_told_and_what_was_typed_is_kept(cast: Cast, change: dict[str, str], says: str) -> None:
    answer = cast.browser("editor").post(URL, TYPED | change)
    assert answer.status_code == 422
    assert says in answer.text
    assert answer.context["form"]["reach"].value() == "1/2 in"


def test_a_viewer_gets_403(cast: Cast) -> None:
    assert cast.browser("viewer").post(URL, TYPED).status_code == 403


def test_a_strangers_plug_lands_in_their_own_shop(cast: Cast) -> None:
    cast.browser("stranger").post(URL, TYPED)
    assert PlugType.objects.get().shop != cast.shop


def test_add_plug_type_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").delete(URL).status_code == 405
