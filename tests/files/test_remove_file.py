import pytest
from django.urls import reverse

from boardshop.files.models import Attachment
from tests.factories import Cast

pytestmark = pytest.mark.django_db


def test_it_goes_to_the_trash_and_comes_back(cast: Cast, photo: Attachment) -> None:
    browser = cast.browser("editor")
    page = reverse("show-unit", args=[photo.of_gear.unit_id])
    browser.post(reverse("remove-file", args=[photo.key]), {"back": page})
    put_back = reverse("put-back-file", args=[photo.key])
    assert not Attachment.objects.exists()
    assert put_back in browser.get(page).text
    assert browser.post(put_back, {"back": page})["Location"] == f"{page}#files"
    assert Attachment.objects.get().trashed_by is None


@pytest.mark.parametrize(("name", "is_trashed"), [("remove-file", False), ("put-back-file", True)])
def test_only_who_may_change_it(cast: Cast, photo: Attachment, name: str, is_trashed: bool) -> None:
    url = reverse(name, args=[photo.key])
    if is_trashed:
        cast.browser("owner").post(reverse("remove-file", args=[photo.key]))
    assert cast.browser("viewer").post(url).status_code == 403
    assert cast.browser("stranger").post(url).status_code == 404
    assert cast.browser("owner").get(url).status_code == 405
    assert Attachment.objects.exists() != is_trashed


@pytest.mark.parametrize(("name", "left"), [("remove-file", 0), ("put-back-file", 1)])
def test_sent_twice_it_is_done_once(cast: Cast, photo: Attachment, name: str, left: int) -> None:
    url = reverse(name, args=[photo.key])
    assert [cast.browser("owner").post(url).status_code for _ in range(2)] == [303, 303]
    assert Attachment.objects.count() == left
