from typing import Any

import pytest
from django.urls import reverse

from boardshop.boards.plan.write import store_plan
from boardshop.environment import PublicUrl
from tests.core import builders as b
from tests.factories import Cast

pytestmark = pytest.mark.django_db


def url(cast: Cast) -> str:
    return reverse("papers", args=[store_plan(cast.shop, b.wired_board(b.pedal("P1")), name="Main").code])


def test_it_leads_to_every_paper(cast: Cast) -> None:
    address = url(cast)
    text = cast.browser("viewer").get(address).text
    code = address.split("/")[2]
    for name in ("build-sheet", "cut-sheet", "first-power-sheet", "case-label", "stage-board", "board-file"):
        assert reverse(name, args=[code]) in text


def test_the_cautions_stand_on_the_page(cast: Cast) -> None:
    assert "protective earth" in cast.browser("viewer").get(url(cast)).text


def test_a_label_whose_code_no_phone_could_open_is_warned_about(cast: Cast, settings: Any) -> None:
    address = url(cast)
    assert "opens on this machine alone" in cast.browser("viewer").get(address).text
    settings.PUBLIC_URL = PublicUrl("https", "boards.example", "https://boards.example")
    assert "opens on this machine alone" not in cast.browser("viewer").get(address).text


def test_it_says_that_the_labels_code_asks_for_signing_in(cast: Cast) -> None:
    assert (
        "A phone that is not signed in yet is asked to sign in first."
        in cast.browser("viewer").get(url(cast)).text
    )


def test_a_stranger_gets_404(cast: Cast) -> None:
    assert cast.browser("stranger").get(url(cast)).status_code == 404


def test_it_only_reads(cast: Cast) -> None:
    assert cast.browser("owner").post(url(cast)).status_code == 405
