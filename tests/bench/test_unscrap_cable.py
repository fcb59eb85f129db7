import pytest
from django.urls import reverse

from boardshop.bench.services.cable_tests import scrap_cable
from boardshop.gear.services import delete_gear
from tests.cable_factories import BAD, DAY, fresh, make_cable, make_tested, read
from tests.factories import Cast, make_plug_type

pytestmark = pytest.mark.django_db


def url(cable: object) -> str:
    return reverse("unscrap-cable", args=[str(cable)])


def test_it_comes_back_to_the_bench_to_be_tested(cast: Cast) -> None:
    good, bad = make_tested(cast.shop, cast.editor), make_cable(cast.shop)
    read(bad, BAD, cast.editor)
    for cable in (good, bad):
        scrap_cable(cable, on=DAY, by=cast.editor, why="by mistake")
        assert "is at the bench" in cast.browser("editor").post(url(cable), follow=True).text
        assert (fresh(cable).is_scrapped, fresh(cable).place) == (False, "bench")
    assert (fresh(good).verdict, fresh(bad).verdict) == ("", "failed")


def test_one_that_is_not_there_is_told_so(cast: Cast) -> None:
    answer = cast.browser("editor").post(url(make_cable(cast.shop)), follow=True)
    assert "is not on the scrap" in answer.text


def test_its_plugs_must_be_out_of_the_trash(cast: Cast) -> None:
    plug = make_plug_type(cast.shop, name="Odd one")
    cable = make_cable(cast.shop, plug_b="Odd one")
    scrap_cable(cable, on=DAY, by=cast.editor, why="by mistake")
    delete_gear(plug)
    answer = cast.browser("editor").post(url(cable), follow=True)
    assert "lies in the trash too" in answer.text
    assert fresh(cable).is_scrapped


def test_a_viewer_gets_403_and_a_stranger_404(cast: Cast) -> None:
    cable = make_cable(cast.shop)
    assert cast.browser("viewer").post(url(cable)).status_code == 403
    assert cast.browser("stranger").post(url(cable)).status_code == 404


def test_unscrap_cable_refuses_get(cast: Cast) -> None:
    assert cast.browser("editor").get(url(make_cable(cast.shop))).status_code == 405
