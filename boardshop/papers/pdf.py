"""From a template to a PDF: WeasyPrint, our own style sheets and fonts, and no gap passed over in silence."""

import logging
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from threading import get_ident
from typing import Any

from django.contrib.staticfiles import finders
from django.template.loader import render_to_string
from django.utils.translation import gettext_lazy as _

STYLES = ("css/fonts.css", "css/tokens.css", "css/pieces.css", "css/papers.css")
VARIANT = "pdf/ua-1"
TYPE_SIZES = ("", "small", "smaller", "smallest")
"""What a paper of one sheet may add to its body's class, largest first."""


class PapersUnavailable(Exception):
    """This machine cannot print PDFs yet: the Pango library is missing. On Debian, type: apt-get install
    libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0. Everything else works without it."""

    def __str__(self) -> str:
        return " ".join(str(_(self.__doc__ or "")).split())


class PaperIncomplete(Exception):
    """A font, picture or style sheet of the paper could not be loaded, so no PDF was made."""


def print_pdf(template: str, context: dict[str, Any]) -> bytes:
    """The template as a tagged PDF.

    Raises PapersUnavailable without Pango, PaperIncomplete when a file that the paper needs is missing.
    """
    return _write(_lay_out(template, context))


def print_one_sheet(template: str, context: dict[str, Any]) -> bytes:
    """The same on a single sheet: in the largest of the template's type sizes that leaves nothing over.

    Raises as print_pdf does.  What does not fit in the smallest size runs on to a second sheet.
    """
    for size in TYPE_SIZES:
        document = _lay_out(template, context | {"type_size": size})
        if len(document.pages) == 1:
            break
    return _write(document)


def _lay_out(template: str, context: dict[str, Any]) -> Any:
    weasyprint = _load_weasyprint()
    html = render_to_string(template, context)
    with _no_gaps():
        fonts = weasyprint.text.fonts.FontConfiguration()
        sheets = [weasyprint.CSS(filename=_static_file(name), font_config=fonts) for name in STYLES]
        return weasyprint.HTML(string=html).render(font_config=fonts, stylesheets=sheets, pdf_variant=VARIANT)


def _write(document: Any) -> bytes:
    with _no_gaps():
        pdf: bytes = document.write_pdf(pdf_variant=VARIANT)
    return pdf


@cache
def _static_file(name: str) -> str:
    found = finders.find(name)
    if found is None:
        raise PaperIncomplete(name)
    return str(found)


def _load_weasyprint() -> Any:
    """Imported here, since it needs a system library and half a second."""
    try:
        import weasyprint
        import weasyprint.text.fonts
    except OSError as error:
        raise PapersUnavailable from error
    return weasyprint


@contextmanager
def _no_gaps() -> Iterator[None]:
    """WeasyPrint logs what it could not load and goes on; a paper must not."""
    faults: list[str] = []
    handler = _Collector(faults)
    logger = logging.getLogger("weasyprint")
    logger.addHandler(handler)
    try:
        yield
    finally:
        logger.removeHandler(handler)
    if faults:
        raise PaperIncomplete("; ".join(faults))


class _Collector(logging.Handler):
    """Of its own thread alone: others may print at the same time."""

    def __init__(self, faults: list[str]) -> None:
        super().__init__(logging.ERROR)
        self.faults, self.thread = faults, get_ident()
        self.addFilter(lambda record: record.thread == self.thread)

    def emit(self, record: logging.LogRecord) -> None:
        self.faults.append(record.getMessage())
