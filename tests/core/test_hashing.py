"""A plan's hash: of every part, the same for equal plans, worked out once."""

import copy
import pickle
from dataclasses import replace

from boardshop.core.index import same_plan
from boardshop.core.plan import BoardPlan, Frame, Link, Pedal, Place

PEDAL = Pedal(ref="P1", kind="drive", width=70, depth=120)


def make_plan(**parts: object) -> BoardPlan:
    return BoardPlan(**{"frame": Frame(600, 300), "pedals": (PEDAL,), **parts})


def test_equal_plans_hash_alike() -> None:
    assert hash(make_plan()) == hash(make_plan())


def test_another_place_hashes_otherwise() -> None:
    assert hash(make_plan()) != hash(make_plan(pedals=(replace(PEDAL, place=Place(10, 20)),)))


def test_another_link_hashes_otherwise() -> None:
    assert hash(make_plan()) != hash(make_plan(links=(Link("W1", "G1.OUT", "P1.IN"),)))


def test_a_hash_once_asked_for_changes_nothing() -> None:
    plan, fresh = make_plan(), make_plan()
    assert hash(plan) == hash(fresh)
    assert plan == make_plan()
    assert repr(plan) == repr(make_plan())


def test_a_changed_copy_has_its_own_hash() -> None:
    plan = make_plan()
    assert hash(plan) != hash(replace(plan, name="other"))
    assert hash(replace(plan, name="other")) == hash(make_plan(name="other"))


def test_copies_hash_as_their_original() -> None:
    plan = make_plan()
    assert hash(plan) == hash(copy.copy(plan)) == hash(pickle.loads(pickle.dumps(plan)))


def test_the_equal_plan_asked_about_before_comes_back() -> None:
    plan = same_plan(make_plan(name="asked about twice"))
    assert same_plan(make_plan(name="asked about twice")) is plan
    assert same_plan(make_plan(name="asked about once")) is not plan
