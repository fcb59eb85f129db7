"""What cable does to the instruments, read back from the build sheet."""

import pytest
from django.urls import reverse

from boardshop.boards.pages.tone_words import label_against, say_against, say_peak, say_resonance
from boardshop.boards.plan.write import store_plan
from boardshop.core.plan import BoardPlan, Scene
from boardshop.core.tone.trying import tell_states
from boardshop.ops.demo.boards import TALLOW_LEFT
from boardshop.ops.demo.build import build
from tests.core import builders as b
from tests.core.tone_boards import BYPASSED, wired
from tests.factories import Cast
from tests.papers.printed import beyond_margin, read_pdf

pytestmark = pytest.mark.django_db


def sheet_of(cast: Cast, plan: BoardPlan) -> bytes:
    board = store_plan(cast.shop, plan, name="Main")
    return cast.browser("viewer").get(reverse("build-sheet", args=[board.code])).content


def test_every_figure_is_cores_and_the_curves_are_drawn(cast: Cast) -> None:
    plan = wired(*BYPASSED, scenes=(Scene("solo", ("P3",)),))
    data = sheet_of(cast, plan)
    text = read_pdf(data).text
    for one in tell_states(plan, plan.sources[0]):
        assert one.state is not None
        figures = [f"{one.state.pf} pF", say_resonance(one.state), say_peak(one.state)]
        assert all(figure in text for figure in (*figures, *say_against(one.against)))
    assert "Scene solo: 740 pF into 1 Mohm" in text
    assert "frequency, Hz" in text
    assert "dB, relative to 100 Hz" in text
    assert "volume knob full up" in text
    assert beyond_margin(data, 14) == ""
    assert len(label_against()) == 4


def test_an_active_instrument_has_a_table_and_no_curve(cast: Cast) -> None:
    text = read_pdf(sheet_of(cast, wired(*BYPASSED[:2], sources=(b.active_source(),)))).text
    assert "Active: its lead costs it no treble" in text
    assert "frequency, Hz" not in text


def test_an_instrument_that_is_not_linked_is_left_out(cast: Cast) -> None:
    assert "Hangs on it" not in read_pdf(sheet_of(cast, b.board(b.pedal("P1")))).text


def test_an_unknown_is_printed_as_unknown(cast: Cast) -> None:
    text = read_pdf(sheet_of(cast, wired(b.pedal("P1"), sources=(b.guitar(pickup=None),)))).text
    assert "1670 pF" in text
    assert "unknown unknown" in text
    assert "frequency, Hz" not in text


def test_eighteen_pedals_stay_on_their_sheets(cast: Cast) -> None:
    assert beyond_margin(sheet_of(cast, build(TALLOW_LEFT)), 14) == ""
