"""Pillow reads back what is kept; Exif tag numbers are those of Exif 2.32 (JEITA CP-3451)."""

import struct
import zlib
from datetime import date
from io import BytesIO

import pytest
import weasyprint  # noqa: F401 - it makes Pillow take half a picture for a whole one, for the whole process
from PIL import Image, ImageCms

from boardshop.files.errors import BrokenPicture, TooManyPixels
from boardshop.files.photos import LONGEST_SIDE, THUMBNAIL_SIDE, make_photo
from tests.files.pictures import BLUE, RED, picture, told_exif


def opened(content: bytes) -> Image.Image:
    image = Image.open(BytesIO(content))
    image.load()
    return image


def is_near(one: tuple[int, ...], other: tuple[int, ...]) -> bool:
    """A JPEG is not exact."""
    return all(abs(a - b) < 16 for a, b in zip(one, other, strict=True))


def png_of(width: int, height: int) -> bytes:
    """A picture that says it is of that size, and holds next to nothing (W3C PNG, 5.3 and 11.2)."""
    parts = [b"IHDR" + struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)]
    parts += [b"IDAT" + zlib.compress(bytes(1000)), b"IEND"]
    chunks = (struct.pack(">I", len(part) - 4) + part + struct.pack(">I", zlib.crc32(part)) for part in parts)
    return b"\x89PNG\r\n\x1a\n" + b"".join(chunks)


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "GIF"])
def test_every_kind_becomes_a_jpeg(kind: str) -> None:
    photo = make_photo(picture(kind=kind), "a")
    assert (opened(photo.content).format, opened(photo.thumbnail).format) == ("JPEG", "JPEG")
    assert (photo.width, photo.height) == opened(photo.content).size == (60, 40)


def test_where_and_by_what_it_was_taken_is_gone() -> None:
    xmp = b"<x:xmpmeta xmlns:x='adobe:ns:meta/'>Jo Secret</x:xmpmeta>"
    content = picture(exif=told_exif(), xmp=xmp, comment=b"Jo Secret")
    assert opened(content).getexif().get_ifd(0x8825)
    photo = make_photo(content, "a")
    for kept in (photo.content, photo.thumbnail):
        assert dict(opened(kept).getexif()) == {}
        assert opened(kept).info.keys() <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
        assert not any(word in kept for word in (b"Exif", b"Oakwren", b"Secret", b"xmp", b"ICC_PROFILE"))


def test_a_text_in_a_png_is_gone() -> None:
    from PIL.PngImagePlugin import PngInfo

    texts = PngInfo()
    texts.add_text("Comment", "Jo Secret")
    assert b"Secret" not in make_photo(picture(kind="PNG", pnginfo=texts), "a").content


def test_the_date_it_was_taken_is_read() -> None:
    assert make_photo(picture(exif=told_exif()), "a").taken_on == date(2025, 4, 3)
    assert make_photo(picture(), "a").taken_on is None


# Exif 2.32, 4.6.4 A: where row 0 and column 0 of what is stored lie; the stored left half is blue.
@pytest.mark.parametrize(
    ("orientation", "size", "blue_at"),
    [(1, (60, 40), (5, 20)), (3, (60, 40), (55, 20)), (6, (40, 60), (20, 5)), (8, (40, 60), (20, 55))],
)
def test_it_stands_upright(orientation: int, size: tuple[int, int], blue_at: tuple[int, int]) -> None:
    image = opened(make_photo(picture(exif=told_exif(orientation)), "a").content)
    assert image.size == size
    assert is_near(image.getpixel(blue_at), BLUE)
    assert is_near(image.getpixel((size[0] - 1 - blue_at[0], size[1] - 1 - blue_at[1])), RED)


def test_large_ones_become_smaller_and_small_ones_stay() -> None:
    photo = make_photo(picture((5000, 1000)), "a")
    assert max(opened(photo.content).size) == LONGEST_SIDE
    assert max(opened(photo.thumbnail).size) == THUMBNAIL_SIDE
    assert opened(make_photo(picture((60, 40)), "a").thumbnail).size == (60, 40)


def test_what_is_transparent_lies_on_white() -> None:
    image, written = Image.new("RGBA", (20, 20), (0, 0, 0, 0)), BytesIO()
    image.save(written, "PNG")
    assert is_near(opened(make_photo(written.getvalue(), "a").content).getpixel((5, 5)), (255, 255, 255))


def test_colours_of_a_profile_are_turned_into_srgb() -> None:
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB")).tobytes()
    assert make_photo(picture(icc_profile=profile), "a").width == 60
    assert b"ICC_PROFILE" not in make_photo(picture(icc_profile=profile), "a").content


def test_the_first_picture_of_an_animation_is_kept() -> None:
    first, second, written = Image.new("RGB", (9, 9), RED), Image.new("RGB", (9, 9), BLUE), BytesIO()
    first.save(written, "GIF", save_all=True, append_images=[second])
    assert is_near(opened(make_photo(written.getvalue(), "a").content).getpixel((4, 4)), RED)


def test_the_same_bytes_give_the_same_picture() -> None:
    content = picture((500, 300), exif=told_exif(6))
    assert make_photo(content, "a") == make_photo(content, "a")


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "GIF"])
@pytest.mark.parametrize("share", [0.2, 0.5, 0.9])
def test_half_a_picture_is_refused(kind: str, share: float) -> None:
    noise, written = Image.effect_noise((300, 300), 80), BytesIO()
    noise.convert("RGB").save(written, kind)
    content = written.getvalue()
    with pytest.raises(BrokenPicture, match=r"a\.jpg"):
        make_photo(content[: int(len(content) * share)], "a.jpg")


@pytest.mark.parametrize("side", [8001, 20_000, 60_000])
def test_a_bomb_is_refused_by_its_header(side: int) -> None:
    with pytest.raises(TooManyPixels, match="64 million"):
        make_photo(png_of(side, side), "a.png")
