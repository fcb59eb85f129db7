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


def test_what_is_not_in_the_trash_is_not_put_back(cast: Cast, photo: Attachment) -> None:
    assert cast.browser("owner").post(reverse("put-back-file", args=[photo.key])).status_code == 404
