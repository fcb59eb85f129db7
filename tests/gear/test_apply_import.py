import re

import pytest
from django.core import signing
from django.urls import reverse

from boardshop.gear.models import PedalModel
from tests.factories import Cast, make_pedal_model
from tests.gear.forms import apply, dry_run, verdicts

pytestmark = pytest.mark.django_db
URL = reverse("apply-import", args=["pedals"])
TWO = "name;kind;width;depth\nEmber;fuzz;73;129\nSlate;noise-gate;73;129\n"


def carried(cast: Cast, role: str = "editor") -> str:
    form = dry_run(cast.browser(role), "pedals", TWO).context["form"]
    return str(form["carried"].value())


def test_all_rows_are_brought_in(cast: Cast) -> None:
    browser = cast.browser("editor")
    answer = apply(browser, "pedals", dry_run(browser, "pedals", TWO))
    assert answer.url == reverse("gear") + "?kind=pedals"
    assert "2 new, 0 changed" in browser.get(answer.url).text
    assert PedalModel.objects.count() == 2


def test_the_second_time_nothing_is_left_to_do(cast: Cast) -> None:
    browser = cast.browser("editor")
    apply(browser, "pedals", dry_run(browser, "pedals", TWO))
    assert verdicts(dry_run(browser, "pedals", TWO)) == ["unchanged", "unchanged"]


def test_it_refuses_when_gear_changed_in_between_and_shows_what_would_happen_now(cast: Cast) -> None:
    make_pedal_model(cast.shop, name="Slate", kind="noise-gate", width=70, depth=129)
    browser = cast.browser("editor")
    shown = dry_run(browser, "pedals", TWO)
    PedalModel.objects.filter(name="Slate").update(width=71)
    answer = apply(browser, "pedals", shown)
    assert answer.status_code == 409
    assert "changed since the dry run" in answer.text
    assert verdicts(answer) == ["new", "changed"]
    assert PedalModel.objects.count() == 1
    assert apply(browser, "pedals", answer).status_code == 302


def test_pressing_twice_brings_nothing_in_twice(cast: Cast) -> None:
    browser = cast.browser("editor")
    shown = dry_run(browser, "pedals", TWO)
    apply(browser, "pedals", shown)
    assert apply(browser, "pedals", shown).status_code == 409
    assert PedalModel.objects.count() == 2


def test_the_same_button_pressed_twice_gives_the_same_answer(cast: Cast) -> None:
    browser = cast.browser("editor")
    page = dry_run(browser, "pedals", TWO)
    sent = {name: page.context["form"][name].value() for name in ("carried", "once")}
    sent["once"] = re.findall(r'name="once" value="([^"]+)"', page.text)[0]
    answers = [browser.post(URL, sent) for _ in range(2)]
    assert [answer.status_code for answer in answers] == [302, 302]
    assert answers[0].url == answers[1].url
    assert PedalModel.objects.count() == 2


def test_what_was_meddled_with_is_refused(cast: Cast) -> None:
    text = carried(cast)
    forged = signing.dumps({"shop": cast.shop.pk, "kind": "pedals", "mark": "", "file": ""}, salt="another")
    for value in ("", "x", text[:-1], text.replace(text[5], "_", 1) + "x", forged):
        answer = cast.browser("editor").post(URL, {"carried": value})
        assert answer.status_code == 422
        assert "bring the file in again" in answer.text.lower()
    assert not PedalModel.objects.exists()


def test_a_dry_run_of_another_list_or_shop_is_refused(cast: Cast) -> None:
    text = carried(cast)
    other = reverse("apply-import", args=["supplies"])
    assert cast.browser("editor").post(other, {"carried": text}).status_code == 422
    assert cast.browser("stranger").post(URL, {"carried": text}).status_code == 422
    assert not PedalModel.objects.exists()


def test_one_refused_row_keeps_all_out(cast: Cast) -> None:
    answer = dry_run(cast.browser("editor"), "pedals", TWO + "Bad;fuzz;wide;129\n")
    assert answer.context["form"] is None
    assert "while a row is refused" in answer.text


def test_a_viewer_gets_403(cast: Cast) -> None:
    assert cast.browser("viewer").post(URL, {"carried": carried(cast)}).status_code == 403


def test_apply_import_refuses_get(cast: Cast) -> None:
    assert cast.browser("editor").get(URL).status_code == 405
