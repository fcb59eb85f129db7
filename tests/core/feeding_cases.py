"""One pedal on one outlet, and what is said of it: the small boards of the power tests."""

from typing import Any

from boardshop.core.findings import Finding
from boardshop.core.plan import BoardPlan, Outlet, OutletSetting, Pedal
from boardshop.core.power import compute_power
from tests.core.builders import board, draws, feed, outlet, pedal, supply, wired_board


def fed_board(
    a_pedal: Pedal | None = None,
    an_outlet: Outlet | None = None,
    setting: int | None = None,
    **feed_values: Any,
) -> BoardPlan:
    """P1 alone on the isolated outlet S1.1; 9 V and everything right unless told otherwise."""
    return board(
        a_pedal or pedal("P1"),
        supplies=[supply("S1", an_outlet or outlet("1"))],
        feeds=[feed("S1.1", "P1.DC", setting, **feed_values)],
    )


def shared_board(*pedals: Pedal, wired: bool = True, **outlet_values: Any) -> BoardPlan:
    """Each pedal on an outlet of its own, all in the group S1/A, patched in a row unless told not to."""
    outlets = [outlet(str(n), **({"group": "A"} | outlet_values)) for n in range(1, len(pedals) + 1)]
    feeds = [feed(f"S1.{n}", f"{p.ref}.{p.power[0].name}") for n, p in enumerate(pedals, start=1)]
    make = wired_board if wired else board
    return make(*pedals, supplies=[supply("S1", *outlets)], feeds=feeds)


def chained_board(*pedals: Pedal, **outlet_values: Any) -> BoardPlan:
    """All pedals on S1.1, each by a feed and a lead of its own."""
    feeds = [feed("S1.1", f"{p.ref}.DC") for p in pedals]
    return wired_board(*pedals, supplies=[supply("S1", outlet("1", **outlet_values))], feeds=feeds)


def joined_board(
    adapter: str, a_pedal: Pedal, one: Outlet | None = None, other: Outlet | None = None, **values: Any
) -> BoardPlan:
    """P1 on S1.1 and S1.2 joined by an adapter; two equal 9 V 100 mA outlets whose maker permits it."""
    permitted = {"parallel_ok": True, "series_ok": True}
    outlets = (one or outlet("1", **permitted), other or outlet("2", **permitted))
    feeds = [feed(["S1.1", "S1.2"], "P1.DC", adapters=(adapter,) if adapter else ())]
    return board(a_pedal, **({"supplies": [supply("S1", *outlets)], "feeds": feeds} | values))


def selectable(name: str = "1", **overrides: Any) -> Outlet:
    """9 V 500 mA or 18 V 250 mA by a switch."""
    settings = (OutletSetting(9000, 9000, 500), OutletSetting(18000, 18000, 250))
    return outlet(name, **({"settings": settings} | overrides))


def drawing(load_ma: int | None, ref: str = "P1", **needs: Any) -> Pedal:
    return draws(pedal(ref), rated=load_ma, **needs)


def said(plan: BoardPlan) -> list[tuple[str, str]]:
    """Rule and severity of every power finding."""
    return [(finding.rule, finding.severity) for finding in compute_power(plan).findings]


def found(plan: BoardPlan, rule: str) -> list[tuple[str, tuple[str, ...]]]:
    """Severity and subjects of one rule's findings."""
    return [(f.severity, f.subjects) for f in compute_power(plan).findings if f.rule == rule]


def finding_of(plan: BoardPlan, rule: str) -> Finding:
    (finding,) = [f for f in compute_power(plan).findings if f.rule == rule]
    return finding
