"""The build sheet's table of fastening, read back from the PDF."""

import pytest
from django.urls import reverse

from boardshop.boards.plan.write import store_plan
from boardshop.core.fastening import list_fastenings
from boardshop.core.plan import BoardPlan
from boardshop.ops.demo.boards import TALLOW_RIGHT
from boardshop.ops.demo.build import build
from tests.core import builders as b
from tests.factories import Cast
from tests.papers.printed import read_pdf

pytestmark = pytest.mark.django_db


def text_of(cast: Cast, plan: BoardPlan) -> str:
    board = store_plan(cast.shop, plan, name="Main")
    answer = cast.browser("viewer").get(reverse("build-sheet", args=[board.code]))
    return read_pdf(answer.content).text


def test_every_pedals_hold_is_cores(cast: Cast) -> None:
    plan = build(TALLOW_RIGHT)
    text = text_of(cast, plan)
    for hold in list_fastenings(plan):
        stop = "yes" if hold.wants_stop else "no"
        assert f"{hold.cover_cm2} cm² {hold.cover_percent} % {stop} {hold.longest_screw_mm} mm" in text
    assert "24 h" in text


def test_what_is_not_weighed_says_so(cast: Cast) -> None:
    assert "not weighed 50 % or more not known not recorded" in text_of(
        cast, b.board(b.pedal("P1", weight=None))
    )
