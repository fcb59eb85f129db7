"""Which refusal each named constraint of the gear tables stands for."""

from boardshop.crew.constraints import Refusals
from boardshop.files.errors import FileOfSeveralThings
from boardshop.gear import errors

_NAMES = {
    "pedal_model_once_per_shop": errors.NameTaken,
    "supply_model_once_per_shop": errors.NameTaken,
    "frame_model_once_per_shop": errors.NameTaken,
    "cable_type_once_per_shop": errors.NameTaken,
    "plug_type_once_per_shop": errors.NameTaken,
    "ready_made_once_per_shop": errors.NameTaken,
    "pedal_model_has_a_name": errors.NameMissing,
    "supply_model_has_a_name": errors.NameMissing,
    "frame_model_has_a_name": errors.NameMissing,
    "cable_type_has_a_name": errors.NameMissing,
    "plug_type_has_a_name": errors.NameMissing,
    "ready_made_has_a_name": errors.NameMissing,
}
_WORDS = (
    *(f"pedal_model_{column}_known" for column in ("kind", "role", "bypass", "circuit", "level", "tracker")),
    *(f"pedal_jack_{column}_known" for column in ("role", "side", "connector", "channels")),
    *(
        f"power_jack_{column}_known"
        for column in ("current", "polarity", "ground_pole", "connector", "share")
    ),
    *(f"outlet_{column}_known" for column in ("current", "polarity", "connector")),
    "supply_model_protection_class_known",
    *(f"supply_model_{column}_known" for column in ("inlet", "outlet_side", "inlet_side", "conversion")),
    "framemodel_surface_known",
    "plug_type_connector_known",
    "plug_type_fixing_known",
    "ready_made_connector_known",
    "ready_made_far_connector_known",
    "cable_stock_kind_known",
    "drawer_item_kind_known",
    *(f"{table}_connector_known" for table in ("supply_lead", "drawer_item")),
    *(f"made_cable_{column}_known" for column in ("kind", "place", "verdict")),
    *(f"cable_fault_{column}_known" for column in ("end", "cause", "chain_place")),
)
_SIZES = (
    *(f"pedal_model_{column}_positive" for column in ("width", "depth", "height", "weight")),
    *(f"pedal_model_{column}_positive" for column in ("toe_height", "screw_length")),
    *(f"supply_model_{column}_positive" for column in ("width", "depth", "height", "weight")),
    *(f"framemodel_{column}_positive" for column in ("width", "depth", "lid", "weight", "plate_thickness")),
    *(f"cable_type_{column}_positive" for column in ("diameter", "min_bend", "cores")),
    *(f"plug_type_{column}_positive" for column in ("reach", "width")),
    *(f"cable_stock_{column}_positive" for column in ("length", "count")),
    "ready_made_length_positive",
    *(f"outlet_setting_{column}_positive" for column in ("min_mv", "max_mv")),
    *(f"supply_lead_{column}_positive" for column in ("length", "mm2", "count")),
    *(f"drawer_item_{column}_positive" for column in ("length", "mm2", "count")),
)

GEAR_REFUSALS: Refusals = {
    **_NAMES,
    **dict.fromkeys(_WORDS, errors.UnknownWord),
    **dict.fromkeys(_SIZES, errors.SizeNotPositive),
    "pedal_model_turns_known": errors.TurnsUnknown,
    "pedal_model_latency_not_negative": errors.AmountNegative,
    "cable_type_price_not_negative": errors.AmountNegative,
    "plug_type_price_not_negative": errors.AmountNegative,
    "ready_made_price_not_negative": errors.AmountNegative,
    "supply_model_price_not_negative": errors.AmountNegative,
    "supply_lead_awg_is_a_gauge": errors.NoSuchGauge,
    "drawer_item_awg_is_a_gauge": errors.NoSuchGauge,
    "pedal_jack_name_once": errors.JackNameTwice,
    "pedal_jack_name_is_one_word": errors.JackNameNotOneWord,
    "power_jack_name_once": errors.JackNameTwice,
    "power_jack_name_is_one_word": errors.JackNameNotOneWord,
    "power_jack_least_not_above_most": errors.PowerRange,
    "outlet_name_once": errors.OutletNameTwice,
    "outlet_name_is_one_word": errors.OutletNameNotOneWord,
    "outlet_setting_range": errors.OutletRange,
    "supply_model_mains_range": errors.MainsRange,
    "supply_model_mains_hz_known": errors.MainsHzUnknown,
    "framemodel_under_both_or_none": errors.HalfRecorded,
    "framemodel_entry_both_or_none": errors.HalfRecorded,
    "framemodel_exit_both_or_none": errors.HalfRecorded,
    "gear_file_is_of_one_thing": FileOfSeveralThings,
    "unit_is_a_pedal_or_a_supply": errors.UnitNeedsOneModel,
    "unit_serial_once_per_pedal_model": errors.SerialTaken,
    "unit_serial_once_per_supply_model": errors.SerialTaken,
    "unit_draw_once_per_jack": errors.DrawTwice,
    "made_cable_code_once_per_shop": errors.CableIdTaken,
    "made_cable_code_readable": errors.CableIdUnreadable,
    "made_cable_length_within": errors.CableLengthImpossible,
    "cable_test_readings_within": errors.ReadingImpossible,
    "cable_test_over_range_known": errors.ReadingImpossible,
    "cable_test_has_a_verdict": errors.CableVerdictMissing,
    "cable_fault_has_a_symptom": errors.SymptomMissing,
}
