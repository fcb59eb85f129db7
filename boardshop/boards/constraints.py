"""Which refusal each named constraint of the board tables stands for."""

from boardshop.boards import cable_errors, errors
from boardshop.crew.constraints import Refusals
from boardshop.gear.constraints import GEAR_REFUSALS

_LENGTHS = (
    *(f"frame_{column}_positive" for column in ("width", "depth", "lid", "weight", "plate_thickness")),
    "link_length_positive",
    "link_made_positive",
    "piece_cut_positive",
    "dc_lead_length_positive",
    "dc_lead_mm2_positive",
    "feed_jack_tail_length_positive",
    "feed_jack_tail_mm2_positive",
)

BOARD_REFUSALS: Refusals = {
    **dict.fromkeys(_LENGTHS, errors.SizeNotPositive),
    "board_has_a_name": errors.NameMissing,
    "board_begun_once_by_a_form": errors.BegunAlready,
    "ref_once_per_board": errors.RefTaken,
    "piece_ref_once_per_board": errors.RefTaken,
    "ref_is_letters_and_digits": errors.RefNotPlain,
    "placement_x_and_y_or_neither": errors.HalfAPlace,
    "supply_placement_x_and_y_or_neither": errors.HalfAPlace,
    "unit_is_one_pedal": errors.UnitElsewhere,
    "unit_is_one_supply": errors.UnitElsewhere,
    "placement_use_up_to_5": errors.UseOutOfRange,
    "one_link_per_input": errors.InputTaken,
    "one_feed_per_power_jack": errors.JackFedTwice,
    "one_setting_per_outlet": errors.TwoSettings,
    "feed_names_an_outlet_once": errors.OutletTwice,
    "feed_adapters_known": errors.AdapterUnknown,
    "accepted_finding_once": errors.AcceptedTwice,
    "scene_name_once_per_board": errors.SceneNameTaken,
    "variant_name_once_per_board": errors.VariantNameTaken,
    "variant_has_a_name": errors.VariantNameMissing,
    "one_layout_search_under_way_per_board": errors.SearchUnderWay,
    "made_cable_on_one_link": cable_errors.CableElsewhere,
    "made_cable_is_fit": cable_errors.CableNotFit,
}

IMPORT_REFUSALS: Refusals = {**GEAR_REFUSALS, **BOARD_REFUSALS}
"""A board file brings its gear along."""
