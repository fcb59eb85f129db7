import pytest
from django.urls import reverse

from tests.factories import Cast, make_frame_model

pytestmark = pytest.mark.django_db


def url(frame: object) -> str:
    return reverse("show-frame-model", args=[frame.pk])


def test_the_frame_is_shown_in_the_shops_unit(cast: Cast) -> None:
    cast.shop.length_unit = "cm"
    cast.shop.save()
    frame = make_frame_model(
        cast.shop, rails=[{"from": 20, "to": 90}], under_front="18.500", under_rear="62.5", plate_thickness=3
    )
    text = cast.browser("viewer").get(url(frame)).text
    assert "60 cm × 32 cm" in text
    assert "2 cm – 9 cm" in text
    assert "1.85 cm" in text
    assert "0.3 cm" in text
    assert "rear right corner" in text


def test_a_stranger_gets_404(cast: Cast) -> None:
    assert cast.browser("stranger").get(url(make_frame_model(cast.shop))).status_code == 404


def test_show_frame_model_refuses_post(cast: Cast) -> None:
    assert cast.browser("owner").post(url(make_frame_model(cast.shop))).status_code == 405
