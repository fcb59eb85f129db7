from datetime import timedelta
from typing import Any

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from boardshop.files.errors import EmptyFile, FileTooLarge, PhoneFormat, UnknownFile
from boardshop.files.models import Attachment, Content
from boardshop.files.section import file_section
from boardshop.files.store import (
    clean_name,
    make_file,
    receive_files,
    remove_file,
    sweep_files,
    used_bytes,
)
from boardshop.gear.held_files import GearHolder
from tests.factories import Cast, make_shop, make_unit
from tests.files.pictures import document, picture, sent, told_exif

pytestmark = pytest.mark.django_db

HEIC = b"\0\0\0\x18ftypheic\0\0\0\0mif1heic"
SVG = b"<svg xmlns='http://www.w3.org/2000/svg'><script>alert(1)</script></svg>"
HTML = b"<!doctype html><script>alert(1)</script>"


@pytest.mark.parametrize(
    ("content", "name", "refusal"),
    [
        (b"just words", "words.jpg", UnknownFile),
        (HTML, "page.jpg", UnknownFile),
        (SVG, "drawing.svg", UnknownFile),
        (b"", "nothing.jpg", EmptyFile),
        (HEIC, "IMG_0001.HEIC", PhoneFormat),
        (HEIC, "renamed.jpg", PhoneFormat),
        (b"x" * 1001, "large.jpg", FileTooLarge),
    ],
)
def test_what_is_no_picture_is_refused_by_name(
    content: bytes, name: str, refusal: type[Exception], settings: Any
) -> None:
    settings.UPLOAD_LIMIT_BYTES = 1000
    with pytest.raises(refusal, match=name):
        make_file(sent(content, name))


def test_its_content_says_what_it_is() -> None:
    assert make_file(sent(picture(kind="PNG"), "a.txt")).media_type == "image/jpeg"
    assert make_file(sent(document(), "a.jpg")).media_type == "application/pdf"


@pytest.mark.parametrize(
    ("name", "clean"),
    [
        ("a/b\\c.jpg", "c.jpg"),
        ("a\r\nb.jpg", "a b.jpg"),
        ("", "file"),
        ("knobs " + "x" * 200 + ".jpg", "knobs " + "x" * 109 + "….jpg"),
        ("x" * 200, "x" * 119 + "…"),
    ],
)
def test_names_are_cleaned(name: str, clean: str) -> None:
    assert clean_name(name) == clean


def test_the_good_ones_are_kept_and_the_others_named(cast: Cast, holder: GearHolder) -> None:
    files = [sent(picture(), "a.jpg"), sent(HTML, "b.jpg"), sent(document(), "c.pdf")]
    received = receive_files(holder, cast.shop, cast.owner, files, "knobs")
    assert [one.name for one in received.added] == ["a.jpg", "c.pdf"]
    assert ["b.jpg" in str(one) for one in received.refused] == [True]


def test_the_same_one_is_kept_once_on_one_thing(cast: Cast, holder: GearHolder) -> None:
    for files in ([sent(picture(), "a.jpg"), sent(picture(), "again.jpg")], [sent(picture(), "b.jpg")]):
        received = receive_files(holder, cast.shop, cast.owner, files, "knobs")
    assert (len(received.there), Attachment.objects.count()) == (1, 1)


def test_its_bytes_are_kept_once_on_two_things(cast: Cast, holder: GearHolder) -> None:
    for one in (holder, GearHolder(make_unit(cast.shop))):
        receive_files(one, cast.shop, cast.owner, [sent(picture((800, 600)))], "knobs")
    assert (Attachment.objects.count(), Content.objects.count()) == (2, 2)


def test_sent_again_it_comes_out_of_the_trash(cast: Cast, holder: GearHolder, photo: Attachment) -> None:
    remove_file(photo, cast.owner)
    receive_files(holder, cast.shop, cast.owner, [sent(picture(exif=told_exif()))], "knobs")
    assert [one.pk for one in Attachment.objects.all()] == [photo.pk]


def test_a_full_shop_says_how_much_it_keeps(cast: Cast, holder: GearHolder, settings: Any) -> None:
    settings.FILES_LIMIT_BYTES = 1
    received = receive_files(holder, cast.shop, cast.owner, [sent(picture(), "a.jpg")], "knobs")
    assert "a.jpg does not fit" in str(received.refused[0])
    assert not Attachment.objects.exists()


def test_what_is_of_nothing_and_old_trash_are_swept(
    cast: Cast, holder: GearHolder, photo: Attachment
) -> None:
    receive_files(holder, cast.shop, cast.owner, [sent(picture((80, 80)))], "knobs")
    assert sweep_files(cast.shop) == 0
    Attachment.with_trash.filter(pk=photo.pk).update(trashed_at=timezone.now() - timedelta(days=31))
    assert sweep_files(cast.shop) == 1
    holder.gear.delete()
    Attachment.objects.update(added_at=timezone.now() - timedelta(days=1))
    assert (sweep_files(cast.shop), Content.objects.count()) == (1, 0)


def test_another_shop_is_not_swept(cast: Cast, photo: Attachment) -> None:
    Attachment.objects.update(trashed_at=timezone.now() - timedelta(days=31))
    assert sweep_files(make_shop()) == 0
    assert used_bytes(cast.shop) > 0


@pytest.mark.parametrize("count", [1, 12])
def test_a_list_loads_no_bytes_and_costs_the_same(cast: Cast, holder: GearHolder, count: int) -> None:
    files = [sent(picture((60 + n, 40))) for n in range(count)]
    receive_files(holder, cast.shop, cast.owner, files, "knobs")
    with CaptureQueriesContext(connection) as queries:
        section = file_section(holder.files(), cast.shop, back="/", add="/add")
    assert (len(section.kept), len(queries)) == (count, 2)
    assert not any('"files_content"."content"' in query["sql"] for query in queries)
