"""Pictures and documents as people send them."""

from io import BytesIO
from typing import Any

from django.core.files.uploadedfile import SimpleUploadedFile
from PIL import Image
from pypdf import PdfWriter
from pypdf.generic import DictionaryObject, NameObject, TextStringObject

RED, BLUE = (200, 30, 30), (30, 30, 200)


def picture(size: tuple[int, int] = (60, 40), kind: str = "JPEG", **how: Any) -> bytes:
    """Red, its left half blue."""
    image = Image.new("RGB", size, RED)
    image.paste(BLUE, (0, 0, size[0] // 2, size[1]))
    written = BytesIO()
    image.save(written, kind, **how)
    return written.getvalue()


def told_exif(orientation: int = 1) -> Image.Exif:
    """A phone's: maker, where, when, which way up (Exif 2.32 tag numbers)."""
    exif = Image.Exif()
    exif[0x010F], exif[0x0112] = "Oakwren Phones", orientation
    exif.get_ifd(0x8769)[0x9003] = "2025:04:03 21:15:00"
    exif.get_ifd(0x8825)[1], exif.get_ifd(0x8825)[2] = "N", (52.0, 31.0, 12.0)
    return exif


def document(pages: int = 1, **how: Any) -> bytes:
    writer = PdfWriter()
    for _ in range(pages):
        writer.add_blank_page(200, 300)
    writer.add_metadata({"/Author": "Jo Secret", "/Title": "receipt"})
    script = {"/S": NameObject("/JavaScript"), "/JS": TextStringObject("app.alert('hello')")}
    action = DictionaryObject({NameObject(key): value for key, value in script.items()})
    writer.root_object[NameObject("/OpenAction")] = action
    writer.add_attachment("hidden.txt", b"hidden words")
    if "password" in how:
        writer.encrypt(how["password"])
    written = BytesIO()
    writer.write(written)
    return written.getvalue()


def sent(content: bytes, name: str = "photo.jpg") -> SimpleUploadedFile:
    return SimpleUploadedFile(name, content)
