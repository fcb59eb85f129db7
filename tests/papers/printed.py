"""Reads a printed paper back: its text, sizes, fonts, and every QR code on the rendered page."""

import io
from dataclasses import dataclass

import pypdfium2
import zxingcpp
from pypdf import PdfReader

MM = 72 / 25.4
PRINTER_DPI = 203
"""A usual label printer's resolution, the coarsest that a code must survive."""


@dataclass(frozen=True)
class Printed:
    sizes_mm: list[tuple[float, float]]
    text: str
    fonts: set[str]
    codes: list[str]


def read_pdf(data: bytes) -> Printed:
    reader = PdfReader(io.BytesIO(data))
    sizes = [
        (round(float(page.mediabox.width) / MM, 1), round(float(page.mediabox.height) / MM, 1))
        for page in reader.pages
    ]
    fonts = {
        str(font.get_object()["/BaseFont"]).split("+")[-1]
        for page in reader.pages
        for font in page["/Resources"].get("/Font", {}).values()
    }
    text = " ".join(" ".join(page.extract_text() for page in reader.pages).split())
    return Printed(sizes, text, fonts, _codes(data))


def _codes(data: bytes) -> list[str]:
    with pypdfium2.PdfDocument(data) as document:
        pages = [page.render(scale=PRINTER_DPI / 72, grayscale=True).to_pil() for page in document]
    formats = zxingcpp.BarcodeFormat.QRCode
    return [code.text for page in pages for code in zxingcpp.read_barcodes(page, formats=formats)]


def beyond_margin(data: bytes, margin_mm: float) -> str:
    """The letters that stand outside of the margin at either side of their sheet."""
    outside = ""
    with pypdfium2.PdfDocument(data) as document:
        for page in document:
            text, width = page.get_textpage(), page.get_width()
            for n in range(text.count_chars()):
                left, _, right, _ = text.get_charbox(n)
                if left < margin_mm * MM - 1 or right > width - margin_mm * MM + 1:
                    outside += text.get_text_range(n, 1)
    return outside.strip()
