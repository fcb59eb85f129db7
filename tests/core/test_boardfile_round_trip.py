"""A plan written as a board file and read again is the same plan, whatever is known or unknown in it."""

import json
from dataclasses import replace

from hypothesis import HealthCheck, given, settings

from boardshop.core.boardfile import dump_plan, load_plan_text
from boardshop.core.plan import Place
from tests.core.documents import full_document, load, small_document
from tests.core.random_boards import documents

ANY_BOARD = settings(
    max_examples=80, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True
)


@ANY_BOARD
@given(documents())
def test_every_allowed_document_comes_back_as_the_same_plan(document):
    plan = load_plan_text(json.dumps(document))
    dumped = dump_plan(plan)
    assert load(dumped) == plan
    assert json.dumps(dump_plan(load(dumped))) == json.dumps(dumped)


def test_the_full_document_comes_back_as_it_was_but_for_defaults():
    document = full_document()
    for key, value in (("role", "drive"), ("pinned", True)):
        assert document["pedals"][0][key] == value
    for section, key in ((document["links"][0], "route"), (document["links"][0], "carries")):
        section.pop(key)
    document["links"][0].pop("screen")
    document["frame"].pop("surface")
    document["frame"]["tiers"][0].pop("height")
    document["frame"]["out"] = {"x": 0, "y": 300}
    document["pedals"][0]["place"].pop("turn")
    document["supplies"][0]["place"].pop("turn")
    document["stock"][0].pop("kind")
    for name in ("class", "earthed"):
        document["amps"][0].pop(name)
    document["pedals"][1]["power"].append(
        {"name": "DC 2"}
    )  # a jack of that role of which nothing is recorded
    assert dump_plan(load(full_document())) == document


def test_the_smallest_document_comes_back_as_it_was():
    assert dump_plan(load(small_document())) == small_document()


def test_keys_come_in_the_order_of_the_format():
    dumped = dump_plan(load(full_document()))
    assert list(dumped) == list(full_document())
    assert list(dumped["pedals"][0]) == list(full_document()["pedals"][0])
    assert list(dumped["rules"]) == list(full_document()["rules"])


def test_incomplete_entries_leave_with_their_owner_and_yield_to_what_is_recorded():
    document = full_document()
    document["pedals"][2]["switches"] = [{"x": 5}]
    document["pedals"][0]["place"].pop("y")
    plan = load(document)
    placed = replace(plan.pedals[0], place=Place(1, 2))
    dumped = dump_plan(replace(plan, pedals=(placed, plan.pedals[1])))
    assert dumped["pedals"][0]["place"] == {"x": 1, "y": 2}
    assert len(dumped["pedals"]) == 2


def test_incomplete_entries_are_kept():
    document = small_document(stock=[{"length": 500}, {"cable": "C1", "length": 900}], cables=[{"ref": "C1"}])
    document["frame"]["keepouts"] = [{"x": 5, "why": "handle"}]
    document["frame"]["under"] = {"rear": 62.5}
    dumped = dump_plan(load(document))
    assert dumped["stock"] == [{"cable": "C1", "length": 900}, {"length": 500}]
    assert dumped["frame"]["keepouts"] == [{"x": 5, "why": "handle"}]
    assert dumped["frame"]["under"] == {"rear": 62.5}
