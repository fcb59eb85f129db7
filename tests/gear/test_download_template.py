import pytest
from django.urls import reverse

from boardshop.gear.kinds import KINDS
from tests.factories import Cast, make_cable_type, make_pedal_model
from tests.gear.forms import dry_run, verdicts

pytestmark = pytest.mark.django_db


@pytest.mark.parametrize("kind", [kind.slug for kind in KINDS])
def test_the_template_is_a_table_that_can_be_brought_in(cast: Cast, kind: str) -> None:
    make_cable_type(cast.shop, name="Example cable")
    make_pedal_model(cast.shop, maker="Example Works", name="Example Drive", power="DC")
    file = cast.browser("editor").get(reverse("download-template", args=[kind])).content
    answer = dry_run(cast.browser("editor"), kind, file)
    assert [row.problems for row in answer.context["plan"].rows] == [[]]
    assert verdicts(answer) in (["new"], ["changed"])


def test_a_kind_that_is_none_is_not_found(cast: Cast) -> None:
    assert cast.browser("viewer").get(reverse("download-template", args=["toasters"])).status_code == 404


def test_download_template_refuses_post(cast: Cast) -> None:
    assert cast.browser("owner").post(reverse("download-template", args=["pedals"])).status_code == 405
