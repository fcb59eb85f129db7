"""A PDF as people send it, written anew without what is no page: information, scripts, files, actions."""

from io import BytesIO
from typing import Any

from pypdf import PdfReader, PdfWriter
from pypdf.errors import PyPdfError
from pypdf.generic import ArrayObject, DictionaryObject, NameObject, StreamObject

from boardshop.files.errors import BrokenDocument, FileRefused, LockedDocument, TooManyPages

MOST_PAGES = 200
# Keys of ISO 32000-1: what runs (12.6.3), is attached (7.11.4, 7.9.6) or tells of its maker (14.3, 14.5).
LEFT_OUT = (
    "/A", "/AA", "/PA", "/OpenAction", "/JS", "/JavaScript", "/Names", "/AF", "/EmbeddedFiles", "/Metadata",
    "/PieceInfo", "/LastModified", "/AcroForm", "/Collection", "/Thumb",
)  # fmt: skip
SHOWN_NOTES = {"/Widget", "/FreeText", "/Stamp", "/Ink", "/Highlight", "/Underline", "/StrikeOut", "/Line",
               "/Square", "/Circle", "/Polygon", "/PolyLine"}  # fmt: skip
"""Annotations that are only drawn on the page, filled-in fields among them (12.5.6)."""
# ITU-T T.81, table B.1, application and comment segments: APP0 is JFIF, APP2 colour, APP14 its model.
KEPT_SEGMENTS = {0xE0, 0xE2, 0xEE}


def make_document(content: bytes, name: str) -> bytes:
    """Raises BrokenDocument, LockedDocument and TooManyPages, which name it `name`."""
    try:
        return _write_anew(content, name)
    except FileRefused:
        raise
    except (PyPdfError, ValueError, LookupError, TypeError, AttributeError, OSError, AssertionError,
            ArithmeticError, RecursionError, NotImplementedError, MemoryError) as error:  # fmt: skip
        # pypdf trusts much of what a file says of itself, and stumbles in any of these ways.
        raise BrokenDocument(name=name) from error


def _write_anew(content: bytes, name: str) -> bytes:
    reader = PdfReader(BytesIO(content))
    if reader.is_encrypted:
        raise LockedDocument(name=name)
    count = len(reader.pages)
    if count > MOST_PAGES:
        raise TooManyPages(name=name, limit=MOST_PAGES)
    if not count:
        raise BrokenDocument(name=name)
    writer = PdfWriter()
    writer.metadata = None
    for page in reader.pages:
        _keep_drawn_notes(page)
        writer.add_page(page)
    for each in list(writer._objects):
        _strip(each)
    writer.compress_identical_objects(remove_unreferenced=True)
    written = BytesIO()
    writer.write(written)
    if len(PdfReader(BytesIO(written.getvalue())).pages) != count:
        raise BrokenDocument(name=name)
    return written.getvalue()


def _keep_drawn_notes(page: DictionaryObject) -> None:
    notes = page.pop("/Annots", None)
    kept = [note for note in notes.get_object() if _is_drawn(note.get_object())] if notes is not None else []
    if kept:
        page[NameObject("/Annots")] = ArrayObject(kept)


def _is_drawn(note: Any) -> bool:
    return isinstance(note, DictionaryObject) and note.get("/Subtype") in SHOWN_NOTES and "/AP" in note


def _strip(part: Any) -> None:
    """Take what is left out of this object and what stands in it; what it refers to is an object itself."""
    if isinstance(part, DictionaryObject):
        for key in LEFT_OUT:
            part.pop(key, None)
        if isinstance(part, StreamObject) and part.get("/Filter") in ("/DCTDecode", ["/DCTDecode"]):
            part._data = strip_jpeg(part._data)
        for value in part.values():
            _strip(value)
    elif isinstance(part, ArrayObject):
        for value in part:
            _strip(value)


def strip_jpeg(content: bytes) -> bytes:
    """A JPEG's own bytes without Exif, XMP, comments and the like; its picture stays bit for bit."""
    kept, at = bytearray(content[:2]), 2
    while at + 4 <= len(content) and content[at] == 0xFF and content[at + 1] != 0xDA:
        kind, end = content[at + 1], at + 2 + int.from_bytes(content[at + 2 : at + 4])
        if kind in KEPT_SEGMENTS or not (0xE0 <= kind <= 0xEF or kind == 0xFE):
            kept += content[at:end]
        at = end
    return bytes(kept) + content[at:]
