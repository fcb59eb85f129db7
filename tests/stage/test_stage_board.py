import re
from dataclasses import replace

import pytest
from django.test import Client as Browser
from django.urls import reverse

from boardshop.boards.models import Board
from boardshop.boards.plan.write import store_plan
from tests.core import builders as b
from tests.factories import Cast

pytestmark = pytest.mark.django_db


def make_board(cast: Cast, pedals: int = 2) -> Board:
    names = ["Low Ember", "Far Shed", *(f"Pedal {n}" for n in range(3, pedals + 1))]
    refs = [f"P{n}" for n in range(1, pedals + 1)]
    plan = b.wired_board(
        *(b.draws(b.pedal(ref, name=name), rated=30) for ref, name in zip(refs, names, strict=False)),
        supplies=[b.supply("S1")],
        feeds=[b.feed("S1.2", "P1.DC")],
    )
    return store_plan(cast.shop, plan, name="Nightjar main")


def page(browser: Browser, board: Board) -> str:
    return re.sub(r"\s+", " ", browser.get(reverse("stage-board", args=[board.code])).text)


def test_what_feeds_a_pedal_is_on_the_page_in_words(cast: Cast) -> None:
    text = page(cast.browser("viewer"), make_board(cast))
    assert '<span class="fed-by">S1.2 · 9 V</span> DC, centre-negative' in text
    assert "9 V, DC, centre-negative, negative ground, 30 mA rated" in text


def test_the_cables_before_and_after_are_named(cast: Cast) -> None:
    text = page(cast.browser("viewer"), make_board(cast))
    assert "Low Ember (P1.OUT), by W2 into IN" in text
    assert "Far Shed (P2.IN), by W2 from OUT" in text


def test_an_unfed_pedal_says_so(cast: Cast) -> None:
    assert '<span class="fed-by">nothing</span>' in page(cast.browser("viewer"), make_board(cast))


def test_the_way_around_the_board_stands_first(cast: Cast) -> None:
    text = page(cast.browser("viewer"), make_board(cast))
    assert text.index("unplug W1 at the board and put it straight into A1.IN") < text.index("Low Ember")


def test_nobody_is_sent_to_an_amp_without_its_earth(cast: Cast) -> None:
    # IEC 61140: a class I unit relies on its protective earth
    plan = b.wired_board(b.pedal("P1"), amps=(b.amp("A1", protection_class="I", earthed=False),))
    text = page(cast.browser("viewer"), store_plan(cast.shop, plan, name="Nightjar main"))
    assert "put it straight into" not in text
    assert text.index("never lift, cut or tape it") < text.index("Do not plug into A1.IN before P21 above")


def test_what_would_destroy_a_pedal_stands_at_the_top_and_with_the_pedal(cast: Cast) -> None:
    supply = b.supply("S1", b.outlet("1", mv=18_000))
    pedal = b.draws(b.pedal("P1", name="Low Ember"), max=9600)
    plan = b.wired_board(pedal, supplies=[supply], feeds=[b.feed("S1.1", "P1.DC")])
    text = page(cast.browser("viewer"), store_plan(cast.shop, plan, name="Nightjar main"))
    assert text.count('<li class="finding is-damage">') == 2
    assert text.index('<li class="finding is-damage">') < text.index('class="chain"')


def test_what_is_unknown_is_counted_not_passed_over(cast: Cast) -> None:
    plan = b.wired_board(b.draws(b.pedal("P1"), polarity=None), supplies=[b.supply("S1")])
    plan = replace(plan, feeds=(b.feed("S1.1", "P1.DC"),))
    text = page(cast.browser("viewer"), store_plan(cast.shop, plan, name="Nightjar main"))
    assert "polarity not recorded" in text
    assert re.search(r"</span> unknown</li>", text)


def test_a_feed_that_nobody_can_judge_is_marked_in_its_row(cast: Cast) -> None:
    supply = b.supply("S1", b.outlet("1", settings=()), b.outlet("2"))
    pedals = [b.draws(b.pedal(ref), rated=20) for ref in ("P1", "P2")]
    feeds = [b.feed("S1.1", "P1.DC"), b.feed("S1.2", "P2.DC")]
    plan = b.wired_board(*pedals, supplies=[supply], feeds=feeds)
    text = page(cast.browser("viewer"), store_plan(cast.shop, plan, name="Nightjar main"))
    first, second = re.findall(r"<summary><span class=\"chain-number\">.*?</summary>", text)
    assert ('class="mark is-unknown"' in first, ">Unknown <" in first) == (True, True)
    assert "mark" not in second


def test_outlets_in_series_tell_their_sum(cast: Cast) -> None:
    feed = b.feed(["S1.1", "S1.2"], "P1.DC", adapters=("series",))
    plan = b.wired_board(b.pedal("P1"), supplies=[b.supply("S1")], feeds=[feed])
    text = page(cast.browser("viewer"), store_plan(cast.shop, plan, name="Nightjar main"))
    assert '<span class="fed-by">18 V together</span>' in text
    parallel = replace(plan, feeds=(replace(plan.feeds[0], adapters=("parallel",)),))
    assert "together" not in page(cast.browser("viewer"), store_plan(cast.shop, parallel, name="Other"))


def test_it_is_dark_unless_somebody_chose_otherwise(cast: Cast) -> None:
    browser, board = cast.browser("viewer"), make_board(cast)
    assert 'data-theme="night"' in page(browser, board)
    browser.cookies["theme"] = "light"
    assert 'data-theme="light"' in page(browser, board)


def test_a_code_typed_in_small_letters_opens_the_board(cast: Cast) -> None:
    board = make_board(cast)
    url = reverse("stage-board", args=[board.code.lower()])
    assert cast.browser("viewer").get(url).status_code == 200


def test_a_stranger_gets_404(cast: Cast) -> None:
    url = reverse("stage-board", args=[make_board(cast).code])
    assert cast.browser("stranger").get(url).status_code == 404


def test_a_visitor_is_asked_to_sign_in(cast: Cast, client: Browser) -> None:
    url = reverse("stage-board", args=[make_board(cast).code])
    assert client.get(url).url == f"{reverse('sign-in')}?next={url}"


def test_it_only_reads(cast: Cast) -> None:
    url = reverse("stage-board", args=[make_board(cast).code])
    assert cast.browser("owner").post(url).status_code == 405


@pytest.mark.parametrize("pedals", [2, 18])
def test_the_queries_do_not_grow(cast: Cast, pedals: int, django_assert_num_queries) -> None:
    browser, board = cast.browser("viewer"), make_board(cast, pedals)
    with django_assert_num_queries(6):
        page(browser, board)
