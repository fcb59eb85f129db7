from typing import Any

import pytest
from django.test import Client as Browser
from django.urls import reverse

from boardshop.boards.pages.kinds import list_places
from boardshop.core.kinds.notes import KIND_NOTES
from boardshop.core.kinds.places import list_kinds
from boardshop.core.vocabulary import KINDS
from tests.chromium import InBrowser, axe_violations, overflows_sideways
from tests.factories import Cast, make_person

pytestmark = pytest.mark.django_db


def url(kind: str) -> str:
    return reverse("explain-kind", args=[kind])


def shown(cast: Cast, kind: str) -> Any:
    return cast.browser("viewer").get(url(kind))


def test_every_kind_is_explained(cast: Cast) -> None:
    browser = cast.browser("viewer")
    for kind in KINDS:
        answer = browser.get(url(kind))
        assert answer.status_code == 200, kind
        assert KIND_NOTES[kind].does in answer.text.replace("&#x27;", "'"), kind


def test_it_says_what_where_and_who_does_otherwise(cast: Cast) -> None:
    text = shown(cast, "delay").text.replace("&#x27;", "'")
    note = KIND_NOTES["delay"]
    assert all(
        said in text for said in (note.does, note.stands, *(t for pair in note.otherwise for t in pair))
    )


@pytest.mark.parametrize("kind", ["zither", "Fuzz", "vintage fuzz", "a" * 300])
def test_an_unknown_kind_is_not_found(cast: Cast, kind: str) -> None:
    assert shown(cast, kind).status_code == 404


def test_neighbours_are_links_in_each_school() -> None:
    common, dynamics_first = list_places("tremolo")
    assert (common.school, [one.kind for one in common.before]) == ("common", ["reverb"])
    assert (dynamics_first.school, [one.kind for one in dynamics_first.behind]) == (
        "dynamics-first",
        ["chorus"],
    )


def test_where_the_schools_agree_is_said_once() -> None:
    assert [row.school for row in list_places("di")] == [""]


def test_roles_have_rows_of_their_own(cast: Cast) -> None:
    rows = list_places("boost")
    assert {row.settled_by for row in rows} == {"role drive, or none recorded", "role level or master"}
    assert "role level or master" in shown(cast, "boost").text


def test_both_sorts_of_fuzz_are_told_apart() -> None:
    assert {row.settled_by for row in list_places("fuzz")} == {
        "input of 100 kohm or more, or not recorded",
        "input below 100 kohm",
    }


def test_a_role_without_a_number_has_no_fixed_place(cast: Cast) -> None:
    assert [row.name for row in list_places("eq") if not row.is_ranked] == ["free eq"]
    assert "no fixed place" in shown(cast, "eq").text


@pytest.mark.parametrize("kind", ["mixer", "midi-controller"])
def test_a_kind_without_numbers_has_no_row_of_neighbours(cast: Cast, kind: str) -> None:
    assert list_places(kind) == []
    assert "Right in front of it" not in shown(cast, kind).text


def test_rules_have_their_severity_as_a_word(cast: Cast) -> None:
    text = shown(cast, "noise-gate").text
    rows = [row for row in shown(cast, "noise-gate").context["rules"] if row.rule.id == "R16"]
    assert [(row.rule.severity, row.school) for row in rows] == [
        ("advice", "common"),
        ("caution", "dynamics-first"),
    ]
    assert "Fault" in text
    assert "(dynamics-first only)" in text


def test_a_rule_for_all_effects_is_said_short(cast: Cast) -> None:
    row = next(row for row in shown(cast, "looper").context["rules"] if row.rule.id == "R29")
    assert row.means_all_effects
    assert [one.name for one in row.others] == ["synth"]


@pytest.mark.parametrize(
    ("kind", "rule", "meant"),
    [
        ("volume", "R25", "role swell"),
        ("boost", "R28", "output boost"),
        ("volume", "R26", ""),
        ("wah", "R06", ""),
    ],
)
def test_a_rule_for_one_place_of_the_kind_names_it(cast: Cast, kind: str, rule: str, meant: str) -> None:
    assert {row.meant for row in shown(cast, kind).context["rules"] if row.rule.id == rule} == {meant}


def test_one_leads_to_the_next(cast: Cast) -> None:
    first, *_rest, last = list_kinds()
    assert 'rel="prev"' not in shown(cast, first).text
    assert 'rel="next"' not in shown(cast, last).text
    text = shown(cast, "reverb").text
    assert f'rel="prev" href="{url("delay")}"' in text
    assert f'rel="next" href="{url("tremolo")}"' in text


def test_a_visitor_signs_in_and_comes_back(client: Browser) -> None:
    assert client.get(url("wah")).url == f"{reverse('sign-in')}?next={url('wah')}"


def test_a_person_without_a_shop_gets_404(client: Browser) -> None:
    client.force_login(make_person())
    assert client.get(url("wah")).status_code == 404


def test_it_only_reads(cast: Cast) -> None:
    assert cast.browser("owner").post(url("wah")).status_code == 405


@pytest.mark.browser
@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("kind", ["volume", "fuzz"])
def test_it_is_readable_on_a_phone_in_the_dark(cast: Cast, in_browser: InBrowser, kind: str) -> None:
    def look(page: Any) -> None:
        for address in (url(kind), reverse("kinds")):
            page.goto(address)
            assert not overflows_sideways(page)
            assert axe_violations(page) == []

    in_browser(look, person=cast.viewer, scripts=True, size=(360, 740), scheme="dark")
