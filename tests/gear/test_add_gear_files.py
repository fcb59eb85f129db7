from typing import Any

import pytest
from django.urls import reverse

from boardshop.files.models import Attachment
from tests.factories import Cast, make_cable_type, make_frame_model, make_pedal_model, make_unit
from tests.files.pictures import picture, sent

pytestmark = pytest.mark.django_db

MAKERS = {"units": make_unit, "cables": make_cable_type, "pedals": make_pedal_model}
PAGES = {"units": "show-unit", "cables": "change-cable-type", "pedals": "show-pedal-model"}


@pytest.fixture(params=sorted(MAKERS))
def kind(request: pytest.FixtureRequest) -> str:
    return str(request.param)


def typed(*contents: bytes) -> dict[str, Any]:
    return {"sent": [sent(content, f"{n}.jpg") for n, content in enumerate(contents)], "shows": "underside"}


def test_photos_of_gear_are_kept_and_shown(cast: Cast, kind: str) -> None:
    gear, browser = MAKERS[kind](cast.shop), cast.browser("editor")
    page = reverse(PAGES[kind], args=[gear.pk])
    answer = browser.post(reverse("add-gear-files", args=[kind, gear.pk]), typed(picture(), b"words"))
    assert (answer.status_code, answer["Location"]) == (303, f"{page}#files")
    text = browser.get(page).text
    assert reverse("show-thumbnail", args=[Attachment.objects.get().key]) in text
    assert "1.jpg is no picture or document" in text


def test_a_photo_is_on_the_page_of_its_thing_alone(cast: Cast, kind: str) -> None:
    gear, other = MAKERS[kind](cast.shop), MAKERS[kind](cast.shop)
    browser = cast.browser("editor")
    browser.post(reverse("add-gear-files", args=[kind, gear.pk]), typed(picture()))
    assert "show-thumbnail" not in browser.get(reverse(PAGES[kind], args=[other.pk])).text
    assert Attachment.objects.get().key not in browser.get(reverse(PAGES[kind], args=[other.pk])).text


WHY = [((), "Choose the photos or files first"), ((b"words",), "is no picture"), ((b"",), "is empty")]


@pytest.mark.parametrize(("contents", "why"), WHY)
def test_nothing_kept_says_why_on_the_page_of_the_form(
    cast: Cast, kind: str, contents: tuple[bytes, ...], why: str
) -> None:
    gear, browser = MAKERS[kind](cast.shop), cast.browser("editor")
    page = browser.get(reverse(PAGES[kind], args=[gear.pk]))
    add = reverse("add-gear-files", args=[kind, gear.pk])
    answer = browser.post(add, typed(*contents))
    assert answer.status_code == 422
    assert answer.templates[0].name == page.templates[0].name
    section = answer.text.partition('id="files"')[2].partition("</form>")[0]
    assert '<details class="fold" open>' in section
    assert f'action="{add}#files"' in section
    assert why in section
    assert not Attachment.with_trash.exists()


def test_the_form_sent_twice_keeps_one(cast: Cast) -> None:
    url = reverse("add-gear-files", args=["units", make_unit(cast.shop).pk])
    browser = cast.browser("editor")
    assert [browser.post(url, typed(picture())).status_code for _ in range(2)] == [303, 303]
    assert Attachment.objects.count() == 1


def test_who_may_not(cast: Cast) -> None:
    unit = make_unit(cast.shop)
    url = reverse("add-gear-files", args=["units", unit.pk])
    for role, code in (("viewer", 403), ("stranger", 404)):
        assert cast.browser(role).post(url, typed(picture())).status_code == code
    assert cast.browser("owner").get(url).status_code == 405
    assert url not in cast.browser("viewer").get(reverse("show-unit", args=[unit.pk])).text


def test_a_kind_without_photos_is_404(cast: Cast) -> None:
    url = reverse("add-gear-files", args=["frames", make_frame_model(cast.shop).pk])
    assert cast.browser("owner").post(url, typed(picture())).status_code == 404
