"""The layout's views print: as vectors in our own type, at their scale, saying from where one looks."""

from collections.abc import Callable

import pytest

from boardshop.boards.drawing import draw_board, draw_side, draw_underside
from boardshop.core.plan import BoardPlan, Under
from boardshop.papers import pdf
from tests.boards.test_drawing import crowded
from tests.core import builders as b
from tests.papers.printed import read_pdf

VIEWS: dict[str, Callable[[BoardPlan], str]] = {
    "View from above, dimensions in mm, scale 1:5": lambda plan: draw_board(plan, scale=5, details=True),
    "UNDERSIDE – mirrored: the player’s right is on the left here": lambda plan: draw_underside(
        plan, scale=5
    ),
    "SIDE VIEW from the player’s right, dimensions in mm, scale 1:5": lambda plan: draw_side(plan, scale=5),
}


@pytest.mark.parametrize("said", VIEWS)
def test_each_view_is_printed_in_our_type(said: str) -> None:
    plan = crowded(frame=b.frame(820, 400, under=Under(20, 76)))
    weasyprint = pdf._load_weasyprint()
    fonts = weasyprint.text.fonts.FontConfiguration()
    sheets = [weasyprint.CSS(filename=pdf._static_file(name), font_config=fonts) for name in pdf.STYLES]
    html = f'<html lang="en"><title>Views</title><body>{VIEWS[said](plan)}</body></html>'
    with pdf._no_gaps():
        document = weasyprint.HTML(string=html).render(font_config=fonts, stylesheets=sheets)
    printed = read_pdf(document.write_pdf())
    assert said in " ".join(printed.text.split())
    assert all("Atkinson" in font for font in printed.fonts)
