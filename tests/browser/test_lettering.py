"""The widths that drawings are lettered by, against those that Chromium and WeasyPrint set."""

import io

import pytest
from playwright.sync_api import Page
from pypdf import PdfReader

from boardshop.boards.drawing import draw_board
from boardshop.boards.drawing.lettering import FAMILIES, Face, measure
from tests.chromium import InBrowser
from tests.core import builders as b
from tests.house.tree import ROOT

WORDS = ("Tell True", "AVAY To. Wax", "Il1 0O", "Łódź ő ű", "kept free 150×60", "S1 under", "W12")
FACES = (Face("next", 400), Face("next", 600), Face("next", 700), Face("mono", 400))

SET_IN_SVG = """async ([words, family, weight]) => {
    await Promise.all(words.map((word) => document.fonts.load(`${weight} 100px ${family.split(',').slice(0, 2)
        .map((name) => `"${name.trim()}"`).join(', ')}`, word)));
    const svg = document.body.appendChild(document.createElementNS('http://www.w3.org/2000/svg', 'svg'));
    return words.map((word) => {
        const text = svg.appendChild(document.createElementNS('http://www.w3.org/2000/svg', 'text'));
        Object.entries({'font-family': family, 'font-weight': weight, 'font-size': 100})
            .forEach(([name, value]) => text.setAttribute(name, value));
        text.textContent = word;
        return text.getComputedTextLength();
    });
}"""


@pytest.mark.browser
@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("face", FACES, ids=str)
def test_chromium_sets_nothing_wider(in_browser: InBrowser, face: Face) -> None:
    """Kerning, which is left out, may only make a word narrower, and by little."""

    def steps(page: Page) -> list[float]:
        page.goto("/sign-in")
        return page.evaluate(SET_IN_SVG, [list(WORDS), FAMILIES[face.family], face.weight])

    measured = [measure(word, 100, face) for word in WORDS]
    for word, ours, theirs in zip(WORDS, measured, in_browser(steps), strict=True):
        assert 0.9 * ours <= theirs <= 1.01 * ours, word


def test_the_drawing_prints_in_the_bundled_type() -> None:
    weasyprint = pytest.importorskip("weasyprint", exc_type=OSError)
    svg = draw_board(b.wired_board(b.pedal("P1", at=(0, 0), name="Łódź Ember")), scale=5)
    fonts = f'<link rel="stylesheet" href="{ROOT.as_uri()}/static/css/fonts.css">'
    pdf = weasyprint.HTML(string=f"<html><head>{fonts}</head><body>{svg}</body></html>").write_pdf()
    page = PdfReader(io.BytesIO(pdf)).pages[0]
    used = {font.get_object()["/BaseFont"].partition("+")[2] for font in page["/Resources"]["/Font"].values()}
    assert used
    assert all(name.startswith("Atkinson-Hyperlegible") for name in used), used
    assert "Łódź Ember" in " ".join(page.extract_text().split())
