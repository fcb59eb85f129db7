import pytest
from django.urls import reverse

from boardshop.boards.models import Board
from boardshop.boards.plan.write import store_plan
from boardshop.core.plan import Mains
from boardshop.core.weight import WeightSection
from boardshop.ops.demo.boards import OAKHOLLOW_MAIN
from boardshop.ops.demo.build import build
from boardshop.papers.case_label import list_mains, say_mains, say_weight
from tests.core import builders as b
from tests.factories import Cast, make_client
from tests.papers.printed import Printed, read_pdf

pytestmark = pytest.mark.django_db


def make_board(cast: Cast, name: str = "Oakhollow main") -> Board:
    owner = make_client(cast.shop, name="Maren Oakhollow")
    return store_plan(cast.shop, build(OAKHOLLOW_MAIN), name=name, client=owner)


def printed(cast: Cast, board: Board) -> Printed:
    return read_pdf(cast.browser("viewer").get(reverse("case-label", args=[board.code])).content)


def test_the_code_on_the_rendered_label_opens_the_stage_page(cast: Cast) -> None:
    board = make_board(cast)
    assert printed(cast, board).codes == [f"http://localhost:8000{reverse('stage-board', args=[board.code])}"]


def test_it_is_one_sheet_of_half_the_shops_paper(cast: Cast) -> None:
    assert printed(cast, make_board(cast)).sizes_mm == [(210.0, 148.0)]


def test_letter_shops_get_half_a_letter(cast: Cast) -> None:
    cast.shop.paper = "Letter"
    cast.shop.save()
    assert printed(cast, make_board(cast)).sizes_mm == [(215.9, 139.7)]


SUPPLIES = [b.supply(f"S{n}", mains=Mains(90_000 + n * 1000, 264_000, (50, 60), "C14")) for n in range(1, 9)]


LONGEST_NAME = "Wintergreen Warmwater Wanderers, second spare board for western tours, left side"


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_longest_names_and_many_supplies_still_fit(cast: Cast, paper: str) -> None:
    cast.shop.paper, cast.shop.name = paper, LONGEST_NAME
    cast.shop.save()
    owner = make_client(cast.shop, name=LONGEST_NAME)
    board = store_plan(cast.shop, b.wired_board(supplies=SUPPLIES), name=LONGEST_NAME, client=owner)
    label = printed(cast, board)
    assert len(LONGEST_NAME) == Board._meta.get_field("name").max_length
    assert len(label.sizes_mm) == len(label.codes) == 1
    assert "S8: 98 to 264 V" in label.text


def test_supplies_that_ask_for_the_same_share_a_line() -> None:
    other = b.supply("S3", mains=None)
    assert list_mains([b.supply("S1"), b.supply("S2"), other]) == [
        "S1, S2: 90 to 264 V, 50/60 Hz, inlet C8",
        "S3: mains range not recorded, read its plate",
    ]


def test_it_names_board_owner_code_and_mains(cast: Cast) -> None:
    board = make_board(cast)
    text = printed(cast, board).text
    for words in ("Oakhollow main", "Maren Oakhollow", board.code, "100 to 240 V, 50/60 Hz, inlet C8"):
        assert words in text


def test_no_serial_stands_on_the_outside(cast: Cast) -> None:
    assert "PC-20117" not in printed(cast, make_board(cast)).text


def test_lifting_is_cautioned(cast: Cast) -> None:
    assert "two people above 23 kg" in printed(cast, make_board(cast)).text


def test_unweighed_parts_make_it_at_least() -> None:
    weight = WeightSection(board_g=5_350, counted=("P1",), unknown=("P2",), findings=())
    assert say_weight(weight) == "at least 5.35 kg, not everything is weighed"


@pytest.mark.parametrize(
    ("mains", "words"),
    [
        (None, "mains range not recorded, read its plate"),
        (Mains(220_000, 240_000, (50,), None), "220 to 240 V, 50 Hz, inlet not recorded"),
    ],
)
def test_mains_in_words(mains: Mains | None, words: str) -> None:
    assert say_mains(mains) == words


def test_a_stranger_gets_404(cast: Cast) -> None:
    url = reverse("case-label", args=[make_board(cast).code])
    assert cast.browser("stranger").get(url).status_code == 404


def test_it_only_reads(cast: Cast) -> None:
    url = reverse("case-label", args=[make_board(cast).code])
    assert cast.browser("owner").post(url).status_code == 405
