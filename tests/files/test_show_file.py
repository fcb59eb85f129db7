import pytest
from django.test import Client as Browser
from django.urls import reverse

from boardshop.files.models import Attachment
from boardshop.files.store import receive_files, remove_file
from boardshop.gear.held_files import GearHolder
from tests.factories import Cast
from tests.files.pictures import document, sent

pytestmark = pytest.mark.django_db


@pytest.fixture(params=["show-file", "show-thumbnail"])
def url(request: pytest.FixtureRequest, photo: Attachment) -> str:
    return reverse(request.param, args=[photo.key])


def test_everybody_of_the_shop_sees_it(cast: Cast, url: str) -> None:
    for role in ("owner", "editor", "viewer"):
        answer = cast.browser(role).get(url)
        assert (answer.status_code, answer["Content-Type"]) == (200, "image/jpeg")
        assert answer.content.startswith(b"\xff\xd8\xff")


def test_it_runs_nothing_and_stays_with_the_person(cast: Cast, url: str) -> None:
    answer = cast.browser("viewer").get(url)
    assert answer["X-Content-Type-Options"] == "nosniff"
    assert answer["Content-Security-Policy"].startswith("sandbox")
    assert answer["Cache-Control"].startswith("private, max-age=")
    assert answer["Content-Disposition"] == 'inline; filename="knobs.jpg"'


def test_a_browser_that_has_it_gets_no_bytes(cast: Cast, url: str) -> None:
    browser = cast.browser("viewer")
    again = browser.get(url, headers={"If-None-Match": browser.get(url)["ETag"]})
    assert (again.status_code, again.content) == (304, b"")


def test_a_stranger_gets_404_and_nobody_is_asked_to_sign_in(cast: Cast, url: str) -> None:
    assert cast.browser("stranger").get(url).status_code == 404
    assert Browser().get(url).status_code == 302


def test_what_is_in_the_trash_or_of_nothing_is_404(
    cast: Cast, url: str, photo: Attachment, holder: GearHolder
) -> None:
    remove_file(photo, cast.owner)
    assert cast.browser("owner").get(url).status_code == 404
    Attachment.with_trash.update(trashed_at=None)
    assert cast.browser("owner").get(url).status_code == 200
    holder.gear.delete()
    assert cast.browser("owner").get(url).status_code == 404


def test_show_file_refuses_post(cast: Cast, url: str) -> None:
    assert cast.browser("owner").post(url).status_code == 405


def test_a_document_is_downloaded_and_has_no_thumbnail(cast: Cast, holder: GearHolder) -> None:
    files = [sent(document(), "Quittung März.pdf")]
    kept = receive_files(holder, cast.shop, cast.owner, files, "receipt").added[0]
    answer = cast.browser("viewer").get(reverse("show-file", args=[kept.key]))
    assert answer["Content-Type"] == "application/pdf"
    assert answer["Content-Disposition"].startswith("attachment;")
    assert cast.browser("viewer").get(reverse("show-thumbnail", args=[kept.key])).status_code == 404
