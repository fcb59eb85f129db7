"""The demo's cable and plug types: names invented, sizes of the usual order."""

from decimal import Decimal

from boardshop.core.plan import CableType, PlugType
from boardshop.gear.records import ReadyMadeRecord

CABLES = {
    "slim": CableType(ref="C1", name="Slim patch 80", pf_per_m=80, diameter=3.8, cores=1, price=2.4),
    "stage": CableType(ref="C2", name="Stage 105", pf_per_m=105, diameter=6.4, cores=1, price=3.1),
}
PLUGS = {
    "flat": PlugType(
        ref="J1",
        name="Flat right-angle",
        connector="6.35 TS",
        reach=14,
        width=22,
        inside=13,
        price=4.2,
        fixing="soldered",
    ),
    "straight": PlugType(
        ref="J2",
        name="Straight",
        connector="6.35 TS",
        reach=50,
        width=15,
        inside=24,
        price=5.0,
        fixing="soldered",
    ),
    "barrel": PlugType(
        ref="J3",
        name="Angled barrel",
        connector="barrel 5.5/2.1",
        reach=14,
        width=12,
        inside=16,
        price=1.1,
        fixing="soldered",
    ),
}
READY_MADE = tuple(
    ReadyMadeRecord(
        name=f"Flat patch {mm // 10}",
        length=mm,
        connector="6.35 TS",
        far_connector="6.35 TS",
        pf_per_m=110,
        price=Decimal(price),
        count=count,
    )
    for mm, price, count in ((100, "8.90", 2), (150, "9.40", 4), (200, "9.90", 0), (300, "10.90", 1))
)
