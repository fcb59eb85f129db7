"""The demo's cable and plug types: names invented, sizes of the usual order."""

from boardshop.core.plan import CableType, PlugType

CABLES = {
    "slim": CableType(ref="C1", name="Slim patch 80", pf_per_m=80, diameter=3.8, cores=1, price=2.4),
    "stage": CableType(ref="C2", name="Stage 105", pf_per_m=105, diameter=6.4, cores=1, price=3.1),
}
PLUGS = {
    "flat": PlugType(
        ref="J1", name="Flat right-angle", connector="6.35 TS", reach=14, width=22, inside=13, price=4.2
    ),
    "straight": PlugType(
        ref="J2", name="Straight", connector="6.35 TS", reach=50, width=15, inside=24, price=5.0
    ),
    "barrel": PlugType(
        ref="J3", name="Angled barrel", connector="barrel 5.5/2.1", reach=14, width=12, inside=16, price=1.1
    ),
}
