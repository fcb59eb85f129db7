"""From a cleaned, faultless document to the frozen plan, with the format's defaults filled in."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

from boardshop.core import plan
from boardshop.core.boardfile.directory import members, power_entries, power_name, records
from boardshop.core.boardfile.incomplete import set_aside
from boardshop.core.boardfile.shapes import ListOf, OneOrMany, Record, Shape
from boardshop.core.boardfile.tables import BOARD, POWER_JACK
from boardshop.core.boardfile.walker import Cleaned
from boardshop.core.defaults import fill_defaults
from boardshop.core.index import fold

type Values = dict[str, Any]


def make_plan(document: Cleaned) -> plan.BoardPlan:
    """The plan of a document that has passed every check; the document is used up."""
    incomplete = set_aside(document)
    frame = document["frame"]
    assert isinstance(frame, dict)
    for key, corner_x in (("in", frame["width"]), ("out", 0)):
        frame[key] = _fill_point(frame[key], corner_x, frame["depth"])
    for _, pedal in records(document, "pedals"):
        pedal["power"] = _list_power_jacks(pedal)
    values = {key: value for key, value in document.items() if key not in ("format", "version")}
    made = _make(values, BOARD)
    assert isinstance(made, plan.BoardPlan)
    return fill_defaults(replace(made, incomplete=incomplete))


def _make(value: Any, shape: Shape) -> Any:
    match shape:
        case Record():
            given = {k: v for k, v in value.items() if v is not None}
            values = {shape.field_for(key): _make(v, shape.fields[key]) for key, v in given.items()}
            return shape.makes(**FINISHERS.get(shape.makes, _as_it_is)(values))
        case ListOf() | OneOrMany():
            listed = value if isinstance(value, list) else [value]
            return tuple(None if item is None else _make(item, shape.item) for item in listed)
        case _:
            return value


def _fill_point(point: object, x: object, y: object) -> Cleaned:
    given = point if isinstance(point, dict) else {}
    return {"x": x, "y": y} | {key: value for key, value in given.items() if value is not None}


def _list_power_jacks(pedal: Cleaned) -> list[Cleaned]:
    """What the pedal describes, then an unknown one for every other jack of that role."""
    listed = [entry | {"name": power_name(entry)} for _, entry in power_entries(pedal, ())]
    named = {fold(str(entry["name"])) for entry in listed}
    nothing: Cleaned = dict.fromkeys(POWER_JACK.fields)
    return listed + [
        nothing | {"name": jack["name"]}
        for _, jack in members(pedal, "jacks", ())
        if jack["role"] == "power" and fold(str(jack["name"])) not in named
    ]


def _as_it_is(values: Values) -> Values:
    return values


def _finish_pedal(values: Values) -> Values:
    turns = tuple(dict.fromkeys(values.pop("turns", ())))
    return values | {"turns": turns} if turns else values


def _finish_setting(values: Values) -> Values:
    fixed = values.pop("mv", None)
    return values if fixed is None else values | {"min_mv": fixed, "max_mv": fixed}


def _finish_feed(values: Values) -> Values:
    return {"settings": (None,) * len(values["outlets"])} | values


FINISHERS: dict[type, Callable[[Values], Values]] = {
    plan.Pedal: _finish_pedal,
    plan.OutletSetting: _finish_setting,
    plan.Feed: _finish_feed,
    plan.Scene: lambda values: {"name": ""} | values,
    plan.Accepted: lambda values: {"rule": "", "subjects": ()} | values,
}
"""What is left to do where a dataclass differs from its object."""
