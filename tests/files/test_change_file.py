from datetime import date

import pytest
from django.urls import reverse

from boardshop.files.models import Attachment
from tests.factories import Cast

pytestmark = pytest.mark.django_db


@pytest.fixture
def url(photo: Attachment) -> str:
    return reverse("change-file", args=[photo.key])


def test_an_editor_says_what_it_shows(cast: Cast, photo: Attachment, url: str) -> None:
    typed = {"shows": "inside", "taken_on": "2024-02-29", "caption": "before the mend", "back": "/gear/"}
    answer = cast.browser("editor").post(url, typed)
    assert (answer.status_code, answer["Location"]) == (303, "/gear/#files")
    photo.refresh_from_db()
    assert (photo.shows, photo.taken_on, photo.caption) == ("inside", date(2024, 2, 29), "before the mend")


@pytest.mark.parametrize(("field", "value"), [("shows", "nonsense"), ("taken_on", "2024-02-30")])
def test_nonsense_is_refused(cast: Cast, photo: Attachment, url: str, field: str, value: str) -> None:
    answer = cast.browser("editor").post(url, {"shows": "knobs", field: value})
    assert answer.status_code == 422
    assert answer.context["form"].errors.keys() == {field}
    photo.refresh_from_db()
    assert photo.shows == "knobs"


@pytest.mark.parametrize("back", ["https://elsewhere.example/", "//elsewhere.example", "javascript:alert(1)"])
def test_it_leads_nowhere_else(cast: Cast, url: str, back: str) -> None:
    answer = cast.browser("editor").post(url, {"shows": "knobs", "back": back})
    assert answer["Location"] == "/#files"


def test_a_viewer_gets_403_and_a_stranger_404(cast: Cast, url: str) -> None:
    assert cast.browser("viewer").get(url).status_code == 403
    assert cast.browser("viewer").post(url, {"shows": "inside"}).status_code == 403
    assert cast.browser("stranger").post(url, {"shows": "inside"}).status_code == 404
