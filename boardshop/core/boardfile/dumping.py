"""From a plan back to its document: keys in the format's order, what is unknown or default left out."""

from collections.abc import Callable
from dataclasses import MISSING, fields, replace
from typing import Any

from boardshop.core import plan
from boardshop.core.boardfile.directory import DEFAULT_POWER_NAME
from boardshop.core.boardfile.incomplete import put_back
from boardshop.core.boardfile.power_tables import FEED
from boardshop.core.boardfile.shapes import ListOf, OneOrMany, Record, Shape
from boardshop.core.boardfile.tables import BOARD
from boardshop.core.defaults import fill_amp, fill_cable, fill_frame
from boardshop.core.vocabulary import FORMAT, VERSION

type Document = dict[str, Any]


def dump_plan(board: plan.BoardPlan) -> Document:
    """The board file of a plan, version 1; loading it gives the same plan again."""
    document = {"format": FORMAT, "version": VERSION} | _dump_record(board, BOARD)
    put_back(document, board.incomplete)
    return document


def dump_feed(feed: plan.Feed) -> Document:
    """One entry of the file's `feeds`."""
    return _dump_record(feed, FEED)


def _dump(value: Any, shape: Shape) -> Any:
    match shape:
        case Record():
            return _dump_record(value, shape)
        case ListOf() | OneOrMany():
            return [None if item is None else _dump(item, shape.item) for item in value]
        case _:
            # A whole number reads the same with and without its decimal point.
            return int(value) if isinstance(value, float) and value.is_integer() else value


def _dump_record(thing: Any, shape: Record) -> Document:
    defaults = _defaults(shape.makes)
    dumped: Document = {}
    for key, item in shape.fields.items():
        name = shape.field_for(key)
        if name in defaults and getattr(thing, name) != defaults[name]:
            dumped[key] = _dump(getattr(thing, name), item)
    return TRIMMERS.get(shape.makes, _as_it_is)(dumped, thing)


def _defaults(made: type) -> dict[str, Any]:
    """Each field's default; MISSING, which equals nothing, where there is none."""
    return {f.name: f.default if f.default_factory is MISSING else f.default_factory() for f in fields(made)}


def _as_it_is(dumped: Document, thing: Any) -> Document:
    return dumped


def _without(dumped: Document, key: str, known: bool) -> Document:
    return {k: v for k, v in dumped.items() if k != key} if known else dumped


def _trim_frame(dumped: Document, frame: plan.Frame) -> Document:
    dumped = _without(dumped, "tiers", fill_frame(replace(frame, tiers=())) == frame)
    dumped = _without(dumped, "in", fill_frame(replace(frame, entry=None)) == frame)
    return _without(dumped, "out", fill_frame(replace(frame, exit=None)) == frame)


def _trim_pedal(dumped: Document, pedal: plan.Pedal) -> Document:
    """One power jack `DC` is an object; jacks of which nothing is known follow from their role."""
    from_role = tuple(plan.PowerJack(jack.name) for jack in pedal.jacks if jack.role == "power")
    if pedal.power == from_role:
        return _without(dumped, "power", known=True)
    names = [jack.name for jack in pedal.power]
    if names == [DEFAULT_POWER_NAME]:
        return dumped | {"power": dumped["power"][0]}
    listed = [{"name": name} | entry for name, entry in zip(names, dumped["power"], strict=True)]
    return dumped | {"power": listed}


def _trim_amp(dumped: Document, amp: plan.Amp) -> Document:
    return _without(dumped, "earthed", fill_amp(replace(amp, earthed=None)) == amp)


def _trim_cable(dumped: Document, cable: plan.CableType) -> Document:
    return _without(dumped, "min_bend", fill_cable(replace(cable, min_bend=None)) == cable)


def _trim_setting(dumped: Document, setting: plan.OutletSetting) -> Document:
    if setting.min_mv != setting.max_mv:
        return dumped
    return {"mv": setting.min_mv} | {k: v for k, v in dumped.items() if k == "max_ma"}


def _trim_feed(dumped: Document, feed: plan.Feed) -> Document:
    for key in ("from", "to", "setting"):
        if len(dumped.get(key, ())) == 1:
            dumped[key] = dumped[key][0]
    return _without(dumped, "setting", not any(setting is not None for setting in feed.settings))


TRIMMERS: dict[type, Callable[[Document, Any], Document]] = {
    plan.Frame: _trim_frame,
    plan.Pedal: _trim_pedal,
    plan.Amp: _trim_amp,
    plan.CableType: _trim_cable,
    plan.OutletSetting: _trim_setting,
    plan.Feed: _trim_feed,
}
"""Where the document is shorter than the dataclass, or written otherwise."""
