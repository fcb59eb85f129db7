import pytest
from django.urls import reverse

from boardshop.bench.models import CutPiece
from boardshop.bench.services.cut_jobs import take_back_cuts
from boardshop.boards.access import get_board_for
from boardshop.boards.models import Link
from boardshop.boards.services.trash import trash_board
from boardshop.gear.models import MadeCable
from boardshop.gear.services import made_cables as services
from tests.bench.cut_boards import make_cut_board
from tests.bench.test_book_cuts import book
from tests.board_factories import make_board
from tests.cable_factories import DAY, make_cable
from tests.factories import Cast, make_cable_type, make_plug_type

pytestmark = pytest.mark.django_db
URL = reverse("add-made-cable")
TYPED = {
    "kind": "signal",
    "length": "320",
    "cable": "Low 60",
    "plug_a": "Flat",
    "plug_b": "Straight",
    "reel": "R1",
    "made_by": "Jo",
    "made_on": "2026-03-01",
    "place": "bench",
    "where": "tray 3",
}


@pytest.fixture(autouse=True)
def types(cast: Cast) -> None:
    make_cable_type(cast.shop, name="Low 60")
    make_plug_type(cast.shop, name="Flat")
    make_plug_type(cast.shop, name="Straight")


def test_a_cable_is_registered_under_an_id_of_its_own(cast: Cast) -> None:
    answer = cast.browser("editor").post(URL, TYPED)
    cable = MadeCable.objects.get()
    assert answer.url == reverse("show-made-cable", args=[cable.code])
    assert (cable.length, cable.cable.name, cable.plug_a.name, cable.plug_b.name) == (
        320,
        "Low 60",
        "Flat",
        "Straight",
    )
    assert (cable.made_on, cable.place, cable.where, cable.verdict) == (DAY, "bench", "tray 3", "")
    assert len(cable.code) == 4


@pytest.mark.parametrize(
    ("change", "says"),
    [
        ({"length": ""}, "is needed"),
        ({"length": "0"}, "above zero"),
        ({"length": "-5"}, "below zero"),
        ({"length": "19"}, "20 mm to 100000 mm"),
        ({"length": "101 m"}, "20 mm to 100000 mm"),
        ({"length": "long"}, "is no length"),
        ({"kind": "hose"}, "hose"),
        ({"plug_a": "Nobody's"}, "Nobody"),
        ({"made_on": "2999-01-01"}, "still to come"),
        ({"made_on": "1026-01-01"}, "before 1950"),
        ({"made_on": "yesterday"}, "year-month-day"),
        ({"place": "moon"}, "moon"),
    ],
)
def test_a_fault_is_told_and_what_was_typed_is_kept(cast: Cast, change: dict[str, str], says: str) -> None:
    answer = cast.browser("editor").post(URL, TYPED | change)
    assert answer.status_code == 422
    assert says in answer.text
    assert answer.context["form"]["reel"].value() == "R1"
    assert not MadeCable.objects.exists()


@pytest.mark.parametrize("length", ["20", "100 m"])
def test_the_shortest_and_the_longest_are_taken(cast: Cast, length: str) -> None:
    assert cast.browser("editor").post(URL, TYPED | {"length": length}).status_code == 302


def test_the_form_of_a_link_knows_what_the_link_takes(cast: Cast) -> None:
    board = make_board(cast.shop, 2)
    answer = cast.browser("editor").get(URL, {"board": board.code, "link": "W2"})
    form = answer.context["form"]
    assert (form["kind"].value(), form["place"].value()) == ("signal", "bench")
    assert form["length"].value() is not None
    assert form["plug_a"].value() == form["plug_b"].value() != ""
    assert "made for W2 of Nightjar main" in answer.text


def test_a_cable_made_for_a_link_leads_to_the_spares_for_it(cast: Cast) -> None:
    board = make_board(cast.shop, 2)
    answer = cast.browser("editor").post(f"{URL}?board={board.code}&link=W2", TYPED)
    assert answer.url == reverse("spares-for-link", args=[board.code, "W2"])


@pytest.mark.parametrize("query", ["board=ZZZZZ&link=W2", "link=W2", "board={code}&link=W77", "board={code}"])
def test_a_link_that_is_not_there_is_not_found(cast: Cast, query: str) -> None:
    address = f"{URL}?{query.format(code=make_board(cast.shop, 2).code)}"
    assert cast.browser("editor").get(address).status_code == 404


def test_a_strangers_board_is_not_found(cast: Cast) -> None:
    board = make_board(cast.shop, 2)
    assert cast.browser("stranger").get(URL, {"board": board.code, "link": "W2"}).status_code == 404


def test_the_same_form_sent_twice_registers_one(cast: Cast) -> None:
    browser = cast.browser("editor")
    once = browser.get(URL).context["form"]["once"].value()
    answers = [browser.post(URL, TYPED | {"once": once}) for _ in range(2)]
    assert MadeCable.objects.count() == 1
    assert answers[0].url == answers[1].url


def test_an_id_that_is_taken_is_drawn_again(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> None:
    """Also one that is on the scrap: no id is used again."""
    first = make_cable(cast.shop)
    services.scrap(first, DAY, "core broken")
    drawn = iter((first.code, first.code, "2345"))
    monkeypatch.setattr(services, "new_cable_code", lambda: next(drawn))
    assert make_cable(cast.shop).code == "2345"


def test_the_gear_of_another_shop_is_not_offered(cast: Cast) -> None:
    assert "Low 60" not in cast.browser("stranger").get(URL).text
    assert cast.browser("stranger").post(URL, TYPED).status_code == 422


def test_a_viewer_gets_403(cast: Cast) -> None:
    assert cast.browser("viewer").post(URL, TYPED).status_code == 403


def test_add_made_cable_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").delete(URL).status_code == 405


def test_a_booked_piece_says_what_it_was_cut_from(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    piece = CutPiece.objects.filter(of__job=book(cast, board)).select_related("of").first()
    form = cast.browser("editor").get(URL, {"piece": piece.pk}).context["form"]
    shown = [form[name].initial for name in ("length", "cable", "reel", "plug_a", "plug_b")]
    assert shown == [piece.cut_mm, piece.of.cable_name, piece.of.tag, piece.plug_from, piece.plug_to]


def test_a_piece_whose_link_is_gone_is_registered_all_the_same(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    piece = CutPiece.objects.filter(of__job=book(cast, board)).first()
    Link.objects.filter(board=board).delete()
    answer = cast.browser("editor").get(URL, {"piece": piece.pk})
    assert (answer.status_code, answer.context["asked"]) == (200, None)


@pytest.mark.parametrize("key", ["0", "x", "9" * 30])
def test_a_piece_that_is_not_there_is_not_found(cast: Cast, key: str) -> None:
    assert cast.browser("editor").get(URL, {"piece": key}).status_code == 404


def test_a_piece_of_another_shop_is_not_found(cast: Cast) -> None:
    piece = CutPiece.objects.filter(of__job=book(cast, make_cut_board(cast.shop))).first()
    assert cast.browser("stranger").get(URL, {"piece": piece.pk}).status_code == 404


def test_a_piece_that_was_registered_knows_its_cable(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    job = book(cast, board)
    piece = CutPiece.objects.get(of__job=job, ref="W2")
    browser, address = cast.browser("editor"), f"{URL}?piece={piece.pk}"
    answer = browser.post(address, TYPED)
    cable = MadeCable.objects.get()
    piece.refresh_from_db()
    assert piece.made == cable
    assert answer.url == f"{reverse('cut-job', args=[job.pk])}#piece-{piece.pk}"
    text = browser.get(reverse("cut-job", args=[job.pk])).text
    assert f"Cable {cable.code} is in the register" in text
    assert f'<a href="{reverse("spares-for-link", args=[board.code, "W2"])}">Put it on W2 of' in text
    row = text[text.index(f'id="piece-{piece.pk}"') :].partition("</tr>")[0]
    assert reverse("show-made-cable", args=[cable.code]) in row
    assert "register it" not in row
    assert text.count("made: register it") == 1


def test_a_piece_is_registered_once(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    piece = CutPiece.objects.filter(of__job=book(cast, board)).first()
    browser, address = cast.browser("editor"), f"{URL}?piece={piece.pk}"
    browser.post(address, TYPED)
    code = MadeCable.objects.get().code
    answer = browser.post(address, TYPED | {"reel": "R77"})
    assert answer.status_code == 422
    assert f"is in the register already, as cable {code}" in answer.text
    assert answer.context["form"]["reel"].value() == "R77"
    assert MadeCable.objects.count() == 1
    again = browser.get(address, follow=True)
    assert again.redirect_chain[0][0].endswith(f"#piece-{piece.pk}")
    assert f"is in the register already, as cable {code}" in again.text


def test_the_form_of_a_piece_that_is_sent_twice_leads_to_the_same_place(cast: Cast) -> None:
    piece = CutPiece.objects.filter(of__job=book(cast, make_cut_board(cast.shop))).first()
    browser, address = cast.browser("editor"), f"{URL}?piece={piece.pk}"
    answers = [browser.post(address, TYPED | {"once": "one-page"}) for _ in range(2)]
    assert answers[0].url == answers[1].url
    assert MadeCable.objects.count() == 1


def test_a_piece_of_a_job_taken_back_is_not_found(cast: Cast) -> None:
    job = book(cast, make_cut_board(cast.shop))
    piece = CutPiece.objects.filter(of__job=job).first()
    take_back_cuts(job, cast.editor)
    browser, address = cast.browser("editor"), f"{URL}?piece={piece.pk}"
    assert [browser.get(address).status_code, browser.post(address, TYPED).status_code] == [404, 404]
    assert not MadeCable.objects.exists()


def test_a_piece_of_a_board_in_the_trash_is_registered_all_the_same(cast: Cast) -> None:
    board = make_cut_board(cast.shop)
    piece = CutPiece.objects.filter(of__job=book(cast, board)).first()
    own = get_board_for(cast.editor, board.code, editing=True)
    trash_board(own, own.edit_number)
    answer = cast.browser("editor").get(URL, {"piece": piece.pk})
    assert (answer.status_code, answer.context["asked"]) == (200, None)
