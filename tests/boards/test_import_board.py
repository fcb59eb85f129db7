import json
from html import unescape
from typing import Any

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.http import HttpResponse
from django.urls import reverse

from boardshop.boards.models import Board
from boardshop.core.boardfile import dump_plan
from boardshop.gear.models import PedalModel
from tests.board_factories import make_board, plan_of
from tests.core import builders as b
from tests.factories import Cast

pytestmark = pytest.mark.django_db
URL = reverse("import-board")
SMALLEST = {"format": "boardshop-board", "version": 1, "frame": {"width": 600, "depth": 320}}


def send(cast: Cast, content: bytes, role: str = "editor", **typed: str) -> HttpResponse:
    upload = SimpleUploadedFile("board.json", content, "application/json")
    return cast.browser(role).post(URL, {"board_file": upload, **typed})


def test_a_board_file_becomes_the_same_board(cast: Cast) -> None:
    document = dump_plan(plan_of(make_board(cast.shop, 3)))
    Board.objects.all().delete()
    answer = send(cast, json.dumps(document).encode())
    board = Board.objects.get()
    assert answer.url == f"/boards/{board.code}"
    assert dump_plan(plan_of(board)) == document


def test_a_name_may_be_given(cast: Cast) -> None:
    send(cast, json.dumps(SMALLEST | {"name": "From file"}).encode(), name="Mine")
    assert Board.objects.get().name == "Mine"


def test_a_file_without_a_name_needs_one(cast: Cast) -> None:
    answer = send(cast, json.dumps(SMALLEST).encode())
    assert answer.status_code == 422
    assert "A board needs a name" in answer.context["import_form"].errors["name"][0]


def test_every_fault_is_listed_with_its_place_and_nothing_is_stored(cast: Cast) -> None:
    wrong = SMALLEST | {"frame": {"width": -1, "depth": 320}, "pedals": [{"ref": "P1", "kind": "fuzzbox"}]}
    answer = send(cast, json.dumps(wrong).encode())
    assert answer.status_code == 422
    text = unescape(answer.text)
    assert all(pointer in text for pointer in ("/frame/width", "/pedals/0/kind", "/pedals/0"))
    assert "nothing was stored" in text
    assert not Board.objects.exists()
    assert not PedalModel.objects.exists()


@pytest.mark.parametrize("content", [b"{", b"\xff\xfe", b"[1]", b"null", b'{"format": "x"}', b"\0"])
def test_what_is_no_board_file_is_refused(cast: Cast, content: bytes) -> None:
    answer = send(cast, content, name="Mine")
    assert answer.status_code == 422
    assert answer.context["faults"]


def test_a_file_with_a_byte_order_mark_is_read_or_refused_with_a_word(cast: Cast) -> None:
    answer = send(cast, b"\xef\xbb\xbf" + json.dumps(SMALLEST).encode(), name="Mine")
    assert answer.status_code == 302 or answer.context["faults"]


def test_an_empty_file_and_no_file_are_told_apart(cast: Cast) -> None:
    assert "empty" in send(cast, b"").context["import_form"].errors["board_file"][0]
    nothing = cast.browser("editor").post(URL, {"name": "Mine"})
    assert "Choose a board file" in nothing.context["import_form"].errors["board_file"][0]
    assert 'value="Mine"' in nothing.text


def test_a_file_over_the_limit_is_refused_before_it_is_read(cast: Cast, settings: Any) -> None:
    content = json.dumps(SMALLEST | {"note": "x" * 200}).encode()
    settings.UPLOAD_LIMIT_BYTES = len(content) - 1
    answer = send(cast, content, name="Mine")
    assert answer.status_code == 422
    assert "larger than" in answer.context["import_form"].errors["board_file"][0]


def test_a_unit_that_stands_on_a_board_is_not_imported_a_second_time(cast: Cast) -> None:
    board = make_board(cast.shop, [b.pedal("P1", name="Low Ember", unit="LE-7")])
    content = json.dumps(dump_plan(plan_of(board))).encode()
    answer = send(cast, content, name="Second")
    assert answer.status_code == 422
    said = answer.context["import_form"].errors["board_file"][0]
    assert said.startswith("Unit LE-7 of P1 is already P1 of board Nightjar main; take it off there")
    assert Board.objects.count() == 1
    board.delete()
    assert send(cast, content, name="Second").status_code == 302


def test_a_second_board_of_the_same_gear_comes_in_with_models_only(cast: Cast) -> None:
    measured = b.draws(b.pedal("P1", name="Low Ember", unit="LE-7"), rated=30, measured=21)
    first = make_board(cast.shop, [measured])
    content = json.dumps(dump_plan(plan_of(first))).encode()
    assert send(cast, content, name="Second", models_only="on").status_code == 302
    (pedal,) = plan_of(Board.objects.get(name="Second")).pedals
    assert (pedal.name, pedal.unit) == ("Low Ember", None)
    assert (pedal.power[0].rated, pedal.power[0].measured) == (30, None)
    assert plan_of(first).pedals[0].unit == "LE-7"


def test_markup_in_a_file_stays_text(cast: Cast) -> None:
    plan = SMALLEST | {"name": "<script>alert(1)</script>"}
    send(cast, json.dumps(plan).encode())
    assert "<script>alert" not in cast.browser("viewer").get(f"/boards/{Board.objects.get().code}").text


def test_a_viewer_gets_403(cast: Cast) -> None:
    assert send(cast, json.dumps(SMALLEST).encode(), "viewer", name="Mine").status_code == 403


def test_a_stranger_imports_into_their_own_shop(cast: Cast) -> None:
    send(cast, json.dumps(SMALLEST).encode(), "stranger", name="Mine")
    assert Board.objects.get().shop != cast.shop


def test_import_board_refuses_get(cast: Cast) -> None:
    assert cast.browser("editor").get(URL).status_code == 405
