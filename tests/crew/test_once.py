"""The same form sent twice makes one thing, also when both requests run at once."""

import re
import threading
from datetime import timedelta
from typing import Any

import pytest
from django.db import connections
from django.test import Client as Browser
from django.urls import reverse
from django.utils import timezone

from boardshop.crew.models import Client, SentForm
from boardshop.crew.once import KNOWN_DAYS, forget_sent_forms
from boardshop.gear.models import CableStock, PedalModel, Unit
from tests.factories import Cast, make_cable_type, make_cast, make_pedal_model, make_person

STOCK = {"kind": "reel", "length": "5000", "count": "1", "tag": ""}


def token_of(page: str) -> str:
    found = re.search(r'name="once" value="([^"]+)"', page)
    assert found, "the form carries a token"
    return found[1]


def stock_form(cast: Cast, browser: Browser) -> dict[str, str]:
    cable = make_cable_type(cast.shop)
    return STOCK | {"cable": cable.name, "once": token_of(browser.get(reverse("add-stock")).text)}


@pytest.mark.django_db
class TestOnce:
    def test_stock_sent_twice_is_one_length_and_the_same_answer(self, cast: Cast) -> None:
        browser = cast.browser("editor")
        form = stock_form(cast, browser)
        first, second = (browser.post(reverse("add-stock"), form) for _ in range(2))
        assert (first.status_code, second.status_code) == (302, 302)
        assert first.url == second.url
        assert CableStock.objects.count() == 1

    def test_a_unit_without_a_serial_sent_twice_is_one_unit(self, cast: Cast) -> None:
        model, browser = make_pedal_model(cast.shop), cast.browser("editor")
        page = browser.get(reverse("add-unit")).text
        value = re.search(r'<option value="([^"]+)">[^<]*' + re.escape(model.name), page)
        assert value
        form = {"model": value[1], "once": token_of(page)}
        answers = [browser.post(reverse("add-unit"), form) for _ in range(2)]
        assert answers[0].url == answers[1].url == reverse("show-unit", args=[Unit.objects.get().pk])

    def test_a_name_sent_twice_is_no_name_taken(self, cast: Cast) -> None:
        browser = cast.browser("editor")
        page = browser.get(reverse("add-client")).text
        kind = re.search(r'<option value="([^"]+)" selected', page)
        form = {"name": "Ada", "kind": kind[1] if kind else "artist", "once": token_of(page)}
        answers = [browser.post(reverse("add-client"), form) for _ in range(2)]
        assert [answer.status_code for answer in answers] == [302, 302]
        assert Client.objects.filter(name="Ada").count() == 1

    def test_another_page_makes_another_one(self, cast: Cast) -> None:
        browser = cast.browser("editor")
        form = stock_form(cast, browser)
        browser.post(reverse("add-stock"), form)
        again = form | {"once": token_of(browser.get(reverse("add-stock")).text)}
        browser.post(reverse("add-stock"), again)
        assert CableStock.objects.count() == 2

    def test_the_same_page_with_something_else_typed_is_another_form(self, cast: Cast) -> None:
        browser = cast.browser("editor")
        form = stock_form(cast, browser)
        browser.post(reverse("add-stock"), form)
        browser.post(reverse("add-stock"), form | {"length": "7000"})
        assert CableStock.objects.count() == 2

    def test_a_refused_form_keeps_its_token_and_can_be_sent_again(self, cast: Cast) -> None:
        browser = cast.browser("editor")
        form = stock_form(cast, browser)
        refused = browser.post(reverse("add-stock"), form | {"length": ""})
        assert refused.status_code == 422
        assert token_of(refused.text) == form["once"]
        assert browser.post(reverse("add-stock"), form).status_code == 302
        assert CableStock.objects.count() == 1

    def test_what_the_service_refuses_leaves_the_token_free(self, cast: Cast) -> None:
        taken, browser = make_pedal_model(cast.shop, maker="", name="Ember"), cast.browser("editor")
        form = {"name": "Ember", "kind": taken.kind, "width": "70", "depth": "120", "turns": "0"}
        form |= {"once": token_of(browser.get(reverse("add-pedal-model")).text)}
        form |= {f"{rows}-TOTAL_FORMS": "0" for rows in ("jacks", "switches", "power")}
        form |= {f"{rows}-INITIAL_FORMS": "0" for rows in ("jacks", "switches", "power")}
        assert browser.post(reverse("add-pedal-model"), form).status_code == 422
        assert not SentForm.objects.exists()
        taken.delete()
        assert browser.post(reverse("add-pedal-model"), form).status_code == 302
        assert PedalModel.objects.get().name == "Ember"

    def test_a_token_of_somebody_else_shows_and_hinders_nothing(self, cast: Cast) -> None:
        browser = cast.browser("editor")
        form = stock_form(cast, browser)
        browser.post(reverse("add-stock"), form)
        other = Browser()
        other.force_login(make_person(cast.shop, "editor"))
        other.post(reverse("add-stock"), form)
        assert CableStock.objects.count() == 2

    def test_a_form_without_a_token_is_kept_each_time(self, cast: Cast) -> None:
        browser = cast.browser("editor")
        form = stock_form(cast, browser) | {"once": ""}
        for _ in range(2):
            assert browser.post(reverse("add-stock"), form).status_code == 302
        assert CableStock.objects.count() == 2

    def test_old_ones_are_forgotten(self, cast: Cast) -> None:
        browser = cast.browser("editor")
        browser.post(reverse("add-stock"), stock_form(cast, browser))
        assert forget_sent_forms(timezone.now() + timedelta(days=KNOWN_DAYS - 1)) == 0
        assert forget_sent_forms(timezone.now() + timedelta(days=KNOWN_DAYS + 1)) == 1


@pytest.mark.django_db(transaction=True)
def test_eight_requests_at_once_make_one_length() -> None:
    cast = make_cast()
    browsers = [cast.browser("editor") for _ in range(8)]
    form = stock_form(cast, browsers[0])
    at_once, answers = threading.Barrier(len(browsers)), list[Any]()

    def send(browser: Browser) -> None:
        at_once.wait()
        answers.append(browser.post(reverse("add-stock"), form))
        connections.close_all()

    threads = [threading.Thread(target=send, args=[browser]) for browser in browsers]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert [answer.status_code for answer in answers] == [302] * len(browsers)
    assert len({answer.url for answer in answers}) == 1
    assert CableStock.objects.count() == 1
