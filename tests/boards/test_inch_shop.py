"""A shop that counts in inches reads no millimetres on a board's pages; 1 in = 25.4 mm exactly."""

import re

import pytest
from django.urls import reverse

from boardshop.boards.models import Board
from boardshop.boards.sheet import BoardSheet
from boardshop.core import plan as core
from boardshop.core.report import compute_report
from boardshop.gear.templatetags.lengths import lengths_in
from tests.board_factories import make_board, plan_of
from tests.core import builders as b
from tests.core.documents import load
from tests.core.random_boards import random_document
from tests.factories import Cast

pytestmark = pytest.mark.django_db
PAGES = ("board", "order", "layout", "cables", "tone", "power", "change-board", "cut-list")
FRAME = b.frame(
    900,
    400,
    rails=(core.Rail(20, 90), core.Rail(110, 180)),
    tiers=(core.Tier(0, 200, 0), core.Tier(200, 400, 40)),
    keepouts=(core.Keepout(20, 330, 160, 60, "handle"),),
)


@pytest.fixture
def board(cast: Cast) -> Board:
    """Pedals that overlap, rails that hold too little: findings with lengths in them."""
    cast.shop.length_unit = "in"
    cast.shop.save()
    pedals = [b.pedal("P1", at=(20, 10), name="One"), b.pedal("P2", at=(60, 10), name="Two")]
    return make_board(cast.shop, pedals, frame=FRAME)


def read(html: str) -> str:
    """What a person reads: text, values, hints; the trade's names of 6.35 and 3.5 mm jacks are none."""
    html = re.sub(r'<input type="hidden"[^>]*>', " ", html)
    return re.sub(r"<script.*?</script>|<(?!input)[^>]*>", " ", html, flags=re.DOTALL)


@pytest.mark.parametrize("page", PAGES)
def test_no_page_speaks_of_millimetres(cast: Cast, board: Board, page: str) -> None:
    text = read(cast.browser("editor").get(reverse(page, args=[board.code])).text)
    text = re.sub(r'name="csrfmiddlewaretoken" value="\w+"|(?:name|id)="\w+"', "", text)
    assert re.findall(r".{30}(?<![a-zA-Z])mm\b(?!²).{10}", text) == []
    assert "in in " not in text


def test_the_drawing_is_dimensioned_in_inches(cast: Cast, board: Board) -> None:
    text = cast.browser("editor").get(reverse("layout", args=[board.code])).text
    assert ">35.43</text>" in text  # 900 / 25.4
    assert ">15.75</text>" in text  # 400 / 25.4
    assert "35.43 in wide and 15.75 in deep" in text
    assert "dimensions in inches" in text
    assert "handle 6.30×2.36" in text
    assert ">+1.57</text>" in text


def test_findings_say_the_cores_lengths_in_inches(board: Board) -> None:
    found = [one for one in BoardSheet(board).findings if one.rule == "L03"]
    core_says = [one for one in compute_report(plan_of(board), cut_seconds=0).findings if one.rule == "L03"]
    assert "overlap by 33 mm" in core_says[0].message
    assert "overlap by 1.30 in" in found[0].message
    assert [one.subjects for one in found] == [one.subjects for one in core_says]


@pytest.mark.parametrize("number", range(40))
def test_no_length_of_any_finding_is_left_in_millimetres(number: int) -> None:
    for one in compute_report(load(random_document(number, 0.9)), cut_seconds=0).findings:
        for words in (one.message, one.cure):
            said = lengths_in(words, "in")
            assert not re.search(r"[0-9] mm\b(?! bore| pin)", said)
            assert len(re.findall(r"\d in\b", said)) >= len(re.findall(r"\d mm\b(?! bore| pin)", words))


def test_limits_and_bands_are_typed_in_inches_and_kept_in_millimetres(cast: Cast, board: Board) -> None:
    browser = cast.browser("editor")
    text = browser.get(reverse("change-board", args=[board.code])).text
    assert 'value="0.79in to 3.54in; 4.33in to 7.09in"' in text
    assert "usual: 0.16" in text  # a gap of 4 mm
    typed = {"edit": 0, "name": "N", "school": "common", "gap_mm": "0.5", "reach_mm": "10"}
    browser.post(reverse("change-board", args=[board.code]), typed)
    rules = plan_of(board).rules
    assert (rules.gap_mm, rules.reach_mm) == (13, 254)


def test_a_frame_that_is_shown_and_kept_again_stays_the_same(cast: Cast, board: Board) -> None:
    browser = cast.browser("editor")
    form = browser.get(reverse("change-board", args=[board.code])).context["frame_form"]
    typed = {bound.name: bound.value() for bound in form if bound.value() is not None} | {"edit": 0}
    assert browser.post(reverse("change-frame", args=[board.code]), typed).status_code == 303
    assert plan_of(board).frame == FRAME
