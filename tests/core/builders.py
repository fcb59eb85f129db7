"""Small builders of plans for core's tests: the usual thing by default, so that a test states what matters.

Numbers are invented; sizes and draws lie in the ranges usual for such gear (common practice).
"""

from collections.abc import Iterable, Sequence
from dataclasses import replace
from itertools import pairwise
from typing import Any

from boardshop.core.plan import (
    Amp,
    BoardPlan,
    CableType,
    Computer,
    DcLead,
    EndJack,
    Feed,
    Frame,
    Jack,
    Link,
    Mains,
    Outlet,
    OutletSetting,
    Pedal,
    Pickup,
    Place,
    PlugType,
    Point,
    PowerJack,
    Source,
    Supply,
    SupplyPlace,
    Tier,
)

Refs = str | Sequence[str]


def power_jack(name: str = "DC", **overrides: Any) -> PowerJack:
    """9 V DC centre-negative, negative ground, 20 mA rated, everything recorded but the measured draw."""
    values: dict[str, Any] = {
        "current": "dc",
        "nominal": 9000,
        "min": 8500,
        "max": 9600,
        "polarity": "centre-negative",
        "ground_pole": "negative",
        "connector": "barrel 5.5/2.1",
        "rated": 20,
        "sag": False,
        "share": "ok",
    }
    return PowerJack(name=name, **(values | overrides))


def signal_jacks(width: int = 73, depth: int = 130) -> tuple[Jack, ...]:
    """IN on the right, OUT on the left, DC in the middle of the rear."""
    side_offset = depth * 2 // 3
    return (
        Jack("IN", "in", "right", side_offset, 20, "6.35 TS", "mono"),
        Jack("OUT", "out", "left", side_offset, 20, "6.35 TS", "mono"),
        Jack("DC", "power", "rear", width // 2, 20, "barrel 5.5/2.1"),
    )


def pedal(ref: str, kind: str = "overdrive", at: tuple[int, ...] | None = None, **overrides: Any) -> Pedal:
    """A true-bypass analog pedal 73 x 130 x 55 mm; ``at=(x, y)`` or ``(x, y, turn)`` places it."""
    width, depth = overrides.get("width", 73), overrides.get("depth", 130)
    values: dict[str, Any] = {
        "width": width,
        "depth": depth,
        "height": 55,
        "weight": 350,
        "jacks": signal_jacks(width, depth),
        "switches": (Point(width // 2, min(25, depth)),),
        "bypass": "true",
        "on": False,
        "input_ohm": 1_000_000,
        "output_ohm": 1_000,
        "circuit": "analog",
        "level": "instrument",
        "tracker": "none",
        "power": (power_jack(),),
    }
    if at is not None:
        values["place"] = Place(*at)  # type: ignore[arg-type]
    return Pedal(ref=ref, kind=kind, **(values | overrides))


def draws(a_pedal: Pedal, **overrides: Any) -> Pedal:
    """The same pedal with other needs at its first power jack: ``draws(pedal("P1"), rated=180)``."""
    first, *others = a_pedal.power
    return replace(a_pedal, power=(replace(first, **overrides), *others))


def guitar(ref: str = "G1", **overrides: Any) -> Source:
    """A passive single-coil instrument with its usual knobs."""
    values: dict[str, Any] = {
        "pickup": Pickup(r=6_000, l=2.5, c=110),
        "volume_ohm": 250_000,
        "tone_ohm": 250_000,
        "tone_nf": 22.0,
    }
    return Source(ref=ref, **(values | overrides))


def active_source(ref: str = "G1", output_ohm: int = 1_000) -> Source:
    return Source(ref=ref, output_ohm=output_ohm)


def amp(ref: str = "A1", **overrides: Any) -> Amp:
    values: dict[str, Any] = {"input_ohm": 1_000_000, "input_pf": 0, "earthed": True, "speaker": "guitar"}
    return Amp(ref=ref, **(values | overrides))


def computer(ref: str = "M1", **overrides: Any) -> Computer:
    return Computer(ref=ref, **({"earthed": True, "jacks": (EndJack("USB", "usb"),)} | overrides))


def cable_type(ref: str = "C1", pf_per_m: int | None = 100, **overrides: Any) -> CableType:
    return CableType(ref, pf_per_m, **({"diameter": 5.0, "min_bend": 25, "cores": 1} | overrides))


def plug_type(ref: str = "J1", **overrides: Any) -> PlugType:
    """A flat right-angle plug."""
    values: dict[str, Any] = {"connector": "6.35 TS", "reach": 14, "width": 22, "inside": 12}
    return PlugType(ref=ref, **(values | overrides))


def dc_plug_type(ref: str = "J9", **overrides: Any) -> PlugType:
    values: dict[str, Any] = {"connector": "barrel 5.5/2.1", "reach": 15, "width": 10, "inside": 15}
    return PlugType(ref=ref, **(values | overrides))


def link(ref: str, source: str, target: str, **overrides: Any) -> Link:
    """A patch of C1 with a J1 at each end; ``link("W1", "P1.OUT", "P2.IN")``."""
    values: dict[str, Any] = {"cable": "C1", "plug_from": "J1", "plug_to": "J1"}
    return Link(ref, source, target, **(values | overrides))


def chain(*refs: str, length: int | None = None, first: int = 1) -> tuple[Link, ...]:
    """Links in signal direction: ``chain("G1", "P1", "P2", "A1")`` gives W1..W3 from OUT to IN.

    ``length`` makes all of them given cables that are not cut.
    """
    return tuple(
        link(f"W{number}", f"{one}.OUT", f"{other}.IN", length=length)
        for number, (one, other) in enumerate(pairwise(refs), start=first)
    )


def outlet(name: str = "1", mv: int = 9000, max_ma: int | None = 100, **overrides: Any) -> Outlet:
    """An isolated regulated DC outlet, centre-negative."""
    values: dict[str, Any] = {
        "current": "dc",
        "settings": (OutletSetting(mv, mv, max_ma),),
        "polarity": "centre-negative",
        "connector": "barrel 5.5/2.1",
        "regulated": True,
        "sag": False,
        "parallel_ok": False,
        "series_ok": False,
    }
    return Outlet(name=name, **(values | overrides))


def supply(ref: str = "S1", *outlets: Outlet, **overrides: Any) -> Supply:
    """A class II supply; four 9 V 100 mA isolated outlets when none are given."""
    values: dict[str, Any] = {
        "outlets": outlets or tuple(outlet(str(number)) for number in range(1, 5)),
        "protection_class": "II",
        "earthed": False,
        "mains": Mains(90_000, 264_000, (50, 60), "C8"),
        "width": 160,
        "depth": 90,
        "height": 35,
        "weight": 700,
    }
    return Supply(ref=ref, **(values | overrides))


def under_frame(a_supply: Supply, x: int, y: int, turn: int = 0) -> Supply:
    return replace(a_supply, place=SupplyPlace(x, y, turn, under=True))  # type: ignore[arg-type]


def feed(
    outlets: Refs, jacks: Refs, setting: int | Sequence[int | None] | None = None, **overrides: Any
) -> Feed:
    """``feed("S1.1", "P1.DC")``; lists for joined outlets and for a chain of jacks."""
    names = (outlets,) if isinstance(outlets, str) else tuple(outlets)
    one_setting = setting is None or isinstance(setting, int)
    settings = (setting,) * len(names) if one_setting else tuple(setting)  # type: ignore[arg-type]
    values: dict[str, Any] = {
        "settings": settings,
        "lead": DcLead(length=600, awg=24, connector="barrel 5.5/2.1", plug="J9"),
    }
    return Feed(names, (jacks,) if isinstance(jacks, str) else tuple(jacks), **(values | overrides))


def frame(width: int = 600, depth: int = 320, **overrides: Any) -> Frame:
    """A frame with everything recorded, one flat tier, leads at its rear corners."""
    values: dict[str, Any] = {
        "surface": "flat",
        "tiers": (Tier(0, depth, 0),),
        "lid": 120,
        "entry": Point(width, depth),
        "exit": Point(0, depth),
        "weight": 3000,
    }
    return Frame(width, depth, **(values | overrides))


def board(*pedals: Pedal, **overrides: Any) -> BoardPlan:
    """A board with a guitar, an amp, one cable type and two plug types; the rest as given."""
    values: dict[str, Any] = {
        "frame": frame(),
        "sources": (guitar(),),
        "amps": (amp(),),
        "cables": (cable_type(),),
        "plugs": (plug_type(), dc_plug_type()),
    }
    return BoardPlan(pedals=pedals, **(values | _tuples(overrides)))


def wired_board(*pedals: Pedal, **overrides: Any) -> BoardPlan:
    """The same, linked in the given order from G1 to A1."""
    return board(*pedals, links=chain("G1", *(p.ref for p in pedals), "A1"), **overrides)


def _tuples(values: dict[str, Any]) -> dict[str, Any]:
    return {
        key: tuple(v) if isinstance(v, Iterable) and not isinstance(v, str) else v
        for key, v in values.items()
    }
