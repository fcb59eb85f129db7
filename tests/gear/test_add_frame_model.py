import pytest
from django.urls import reverse

from boardshop.core import plan as core
from boardshop.gear.models import FrameModel
from boardshop.gear.shelves import frame_record
from tests.factories import Cast

pytestmark = pytest.mark.django_db
URL = reverse("add-frame-model")
TYPED = {
    "name": "600",
    "width": "60 cm",
    "depth": "320",
    "surface": "slotted",
    "tiers": "0 to 150; 150 to 300 height 40",
    "keepouts": "100 x 50 at x 10 y 20: handle",
    "members": "600 x 20 at x 0 y 150: crossbar; 30 x 30 at x 0 y 0",
    "entry_x": "600",
    "entry_y": "0",
}


def test_a_frame_is_kept(cast: Cast) -> None:
    answer = cast.browser("editor").post(URL, TYPED)
    frame = FrameModel.objects.get()
    assert answer.url == reverse("show-frame-model", args=[frame.pk])
    record = frame_record(frame)
    assert (record.width, record.tiers) == (600, (core.Tier(0, 150, 0), core.Tier(150, 300, 40)))
    assert record.keepouts == (core.Keepout(10, 20, 100, 50, "handle"),)
    assert record.members == (core.Member(0, 150, 600, 20, "crossbar"), core.Member(0, 0, 30, 30))
    assert (record.entry_x, record.entry_y, record.exit_x) == (600, 0, None)


@pytest.mark.parametrize(
    ("change", "field", "says"),
    [
        ({"width": ""}, "width", "is needed"),
        ({"rails": "90"}, "rails", "such as 20mm to 90mm"),
        ({"rails": "90 to 20"}, "rails", "does not lie within its depth"),
        ({"rails": "300 to 321"}, "rails", "does not lie within its depth"),
        ({"tiers": "0 to 150; 149 to 300"}, "tiers", "overlap at 149 mm"),
        ({"keepouts": "100 x 50 at x 501 y 20"}, "keepouts", "reaches beyond"),
        ({"members": "100 x 50 at x 501 y 20"}, "members", "reaches beyond"),
        ({"members": "a crossbar"}, "members", "is no part"),
        ({"members": "0 x 50 at x 1 y 20"}, "members", "has no size"),
        ({"entry_y": ""}, "entry_y", "both of the pair"),
        ({"under_front": "18"}, "under_rear", "both of the pair"),
    ],
)
def test_a_fault_is_told_beside_its_field(cast: Cast, change: dict[str, str], field: str, says: str) -> None:
    answer = cast.browser("editor").post(URL, TYPED | change)
    assert answer.status_code == 422
    assert says in str(answer.context["form"].errors[field])
    assert answer.context["form"]["name"].value() == "600"


def test_a_rail_may_reach_the_rear_edge(cast: Cast) -> None:
    assert cast.browser("editor").post(URL, TYPED | {"rails": "300 to 320"}).status_code == 302


def test_a_viewer_gets_403(cast: Cast) -> None:
    assert cast.browser("viewer").post(URL, TYPED).status_code == 403


def test_a_strangers_frame_lands_in_their_own_shop(cast: Cast) -> None:
    cast.browser("stranger").post(URL, TYPED)
    assert FrameModel.objects.get().shop != cast.shop


def test_add_frame_model_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").delete(URL).status_code == 405
