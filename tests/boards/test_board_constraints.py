"""A constraint that a form can break has a sentence; the others are named with what stands before."""

from django.apps import apps

from boardshop.boards.constraints import BOARD_REFUSALS
from boardshop.crew.constraints import named_constraints

CHOICES_OF_FORMS = {
    "amp_protection_class_known",
    "amp_speaker_known",
    "dc_lead_connector_known",
    "frame_surface_known",
    "lead_reading_polarity_known",
    "link_carries_known",
    "link_route_known",
    "link_screen_known",
    "placement_role_known",
    "placement_turn_known",
    "supply_placement_turn_known",
    "layout_search_wanted_known",
}
"""Chosen from the very list that the constraint holds."""

WRITTEN_BY_SERVICES = {
    "cable_stay_chain_place_known",
    "cable_stay_ends_after_it_began",
    "cable_stays_in_one_place",
    "link_made_cable_has_its_length",
    "accepted_finding_names_a_rule",
    "board_code_readable",
    "change_once_per_edit",
    "frame_entry_both_or_none",
    "frame_exit_both_or_none",
    "frame_under_both_or_none",
    "layout_search_finished_or_under_way",
    "layout_search_names_its_pedal",
    "layout_search_percent_up_to_100",
    "layout_search_state_known",
    "lead_reading_polarity_with_volts",
    "lead_reading_volts_or_load",
    "link_from_jack_or_name",
    "link_to_jack_or_name",
    "one_current_variant_per_board",
    "revision_number_once_per_board",
    "revision_numbers_from_one",
}
"""Columns that are written together from one value that has all of them, and numbers that services count."""

REFUSED_BY_FIELDS = {"source_values_not_negative"}
"""Amounts whose fields take nothing below zero."""


def test_every_constraint_that_a_form_could_break_has_its_sentence() -> None:
    named = set(named_constraints(*apps.get_app_config("boards").get_models()))
    assert named - set(BOARD_REFUSALS) == CHOICES_OF_FORMS | WRITTEN_BY_SERVICES | REFUSED_BY_FIELDS
