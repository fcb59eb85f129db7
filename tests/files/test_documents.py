"""pypdf and pypdfium2 read back what is kept; names of keys are those of ISO 32000-1."""

from io import BytesIO

import pypdfium2
import pytest
from pypdf import PdfReader, PdfWriter
from pypdf.annotations import FreeText, Link

from boardshop.files.documents import MOST_PAGES, make_document, strip_jpeg
from boardshop.files.errors import BrokenDocument, LockedDocument, TooManyPages
from tests.files.pictures import document, picture, told_exif

TELLING = (b"Secret", b"/JavaScript", b"/JS", b"hidden", b"/EmbeddedFile", b"/Author")


def test_what_is_no_page_is_gone() -> None:
    sent = document(2)
    assert [word for word in TELLING if word not in sent] == []
    kept = make_document(sent, "a.pdf")
    assert [word for word in TELLING if word in kept] == []
    assert len(pypdfium2.PdfDocument(kept)) == 2


def test_a_link_goes_and_a_note_that_is_drawn_loses_what_it_runs() -> None:
    writer, written = PdfWriter(), BytesIO()
    writer.add_blank_page(200, 300)
    writer.add_annotation(0, Link(rect=(0, 0, 9, 9), url="https://tracker.example"))
    writer.add_annotation(0, FreeText(text="paid", rect=(50, 50, 100, 80)))
    writer.write(written)
    kept = make_document(written.getvalue(), "a.pdf")
    assert b"tracker" not in kept
    assert b"/URI" not in kept


def test_a_scan_inside_says_no_more_where_it_was_made() -> None:
    scan = picture(exif=told_exif(), comment=b"Jo Secret")
    kept = strip_jpeg(scan)
    assert b"Oakwren" in scan
    assert not any(word in kept for word in (b"Oakwren", b"Exif", b"Secret"))
    from PIL import Image

    assert Image.open(BytesIO(kept)).tobytes() == Image.open(BytesIO(scan)).tobytes()


def test_the_same_bytes_give_the_same_document() -> None:
    assert make_document(document(), "a.pdf") == make_document(document(), "a.pdf")


def test_an_encrypted_one_is_refused() -> None:
    with pytest.raises(LockedDocument, match="password"):
        make_document(document(password="p"), "a.pdf")


@pytest.mark.parametrize("content", [b"%PDF-1.7", b"%PDF-1.7\nnothing", document()[:300]])
def test_a_broken_one_is_refused(content: bytes) -> None:
    with pytest.raises(BrokenDocument, match=r"a\.pdf"):
        make_document(content, "a.pdf")


def test_pages_are_counted() -> None:
    assert len(PdfReader(BytesIO(make_document(document(MOST_PAGES), "a"))).pages) == MOST_PAGES
    with pytest.raises(TooManyPages):
        make_document(document(MOST_PAGES + 1), "a.pdf")
