"""A constraint that people can break has a sentence; the others are named with what stands before."""

from django.apps import apps

from boardshop.bench.constraints import BENCH_REFUSALS
from boardshop.crew.constraints import named_constraints

WRITTEN_BY_SERVICES = {
    "cut_job_numbers_from_one",
    "cut_length_adds_up",
    "cut_length_keeps_a_row_or_nothing",
    "cut_length_kind_known",
    "cut_length_makes_something",
    "cut_piece_positive",
}
"""Columns that a booking writes together from one plan."""


def test_every_constraint_that_people_could_break_has_its_sentence() -> None:
    named = set(named_constraints(*apps.get_app_config("bench").get_models()))
    assert named - set(BENCH_REFUSALS) == WRITTEN_BY_SERVICES
    assert set(BENCH_REFUSALS) <= named
