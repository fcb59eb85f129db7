"""A picture as people send it, made into one that is kept: upright, not too large, telling nothing else.

The same bytes always give the same result with the same Pillow.
"""

import struct
from dataclasses import dataclass
from datetime import date, datetime
from io import BytesIO

from PIL import Image, ImageCms, ImageFile, ImageOps

from boardshop.files.errors import BrokenPicture, TooManyPixels

FORMATS = ("JPEG", "PNG", "WEBP", "GIF")
MOST_PIXELS = 64_000_000
"""Checked in the header, before anything is decoded; a phone's 50 megapixels pass, a bomb does not."""
LONGEST_SIDE, THUMBNAIL_SIDE = 2400, 360
QUALITY = 85
# Exif 2.32 (JEITA CP-3451), tag numbers: the Exif IFD and DateTimeOriginal in it.
EXIF_IFD, TAKEN_AT = 0x8769, 0x9003
DECODING_ERRORS = (
    OSError, ValueError, SyntaxError, EOFError, LookupError, TypeError, OverflowError, MemoryError,
    struct.error,
)  # fmt: skip
"""What Pillow raises on broken input."""


@dataclass(frozen=True)
class Photo:
    """JPEGs without metadata; sizes in pixels of the larger one."""

    content: bytes
    thumbnail: bytes
    width: int
    height: int
    taken_on: date | None


def make_photo(content: bytes, name: str) -> Photo:
    """Raises BrokenPicture and TooManyPixels, which name it `name`."""
    try:
        with Image.open(BytesIO(content), formats=FORMATS) as picture:
            if picture.width * picture.height > MOST_PIXELS:
                raise TooManyPixels(name=name, limit=MOST_PIXELS // 1_000_000)
            return _keep(picture)
    except Image.DecompressionBombError as error:
        raise TooManyPixels(name=name, limit=MOST_PIXELS // 1_000_000) from error
    except DECODING_ERRORS as error:
        raise BrokenPicture(name=name) from error


def _keep(picture: Image.Image) -> Photo:
    taken_on = _taken_on(picture)
    # WeasyPrint sets this for the whole process, and half a picture would be taken for a whole one.
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    # A JPEG is decoded at a fraction of its size at once; anything else takes no notice.
    picture.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
    picture.load()
    profile = picture.info.get("icc_profile")
    upright = ImageOps.exif_transpose(picture)
    upright.thumbnail((LONGEST_SIDE, LONGEST_SIDE), Image.Resampling.LANCZOS)
    plain = _in_srgb(_flat(upright), profile)
    small = plain.copy()
    small.thumbnail((THUMBNAIL_SIDE, THUMBNAIL_SIDE), Image.Resampling.LANCZOS)
    return Photo(_jpeg(plain), _jpeg(small), plain.width, plain.height, taken_on)


def _taken_on(picture: Image.Image) -> date | None:
    """The camera's own date; None where it says none that can be read."""
    try:
        said = picture.getexif().get_ifd(EXIF_IFD).get(TAKEN_AT)
        return datetime.strptime(str(said)[:10], "%Y:%m:%d").date()
    except DECODING_ERRORS:
        return None


def _flat(picture: Image.Image) -> Image.Image:
    """On white where it is transparent; grey, RGB or CMYK remains."""
    if picture.has_transparency_data:
        seen = picture.convert("RGBA")
        return Image.alpha_composite(Image.new("RGBA", seen.size, "white"), seen).convert("RGB")
    return picture if picture.mode in ("L", "RGB", "CMYK") else picture.convert("RGB")


def _in_srgb(picture: Image.Image, profile: bytes | None) -> Image.Image:
    """The colours that its profile meant, in sRGB; a profile that does not fit it is passed over."""
    if profile:
        try:
            meant = ImageCms.ImageCmsProfile(BytesIO(profile))
            turned = ImageCms.profileToProfile(
                picture, meant, ImageCms.createProfile("sRGB"), outputMode="RGB"
            )
            if turned is not None:
                return turned
        except (ImageCms.PyCMSError, OSError, ValueError):
            pass
    return picture.convert("RGB")


def _jpeg(picture: Image.Image) -> bytes:
    # Pillow writes a comment that hangs on the picture, so a blank one takes the pixels alone.
    blank, written = Image.new("RGB", picture.size), BytesIO()
    blank.paste(picture)
    blank.save(written, "JPEG", quality=QUALITY, optimize=True)
    return written.getvalue()
