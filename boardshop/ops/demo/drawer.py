"""DC leads that the demo's supplies bring along, and the demo shop's drawer; all invented."""

from decimal import Decimal

from boardshop.core.plan import SupplyLead
from boardshop.gear.records import DrawerRecord

BARREL = "barrel 5.5/2.1"

RIDGE_LEADS = (
    SupplyLead(300, awg=22, connector=BARREL, count=3),
    SupplyLead(500, awg=22, connector=BARREL, count=3),
    SupplyLead(900, awg=20, connector=BARREL, count=2),
)
LONG_RIDGE_LEADS = (
    SupplyLead(300, awg=22, connector=BARREL, count=4),
    SupplyLead(600, awg=20, connector=BARREL, count=6),
    SupplyLead(900, awg=20, connector=BARREL, count=2),
)
PEBBLE_LEADS = (SupplyLead(450, awg=24, connector=BARREL, count=5),)

DRAWER = (
    DrawerRecord(kind="reverser", connector=BARREL, count=2, note="marked with a red sleeve"),
    DrawerRecord(kind="converter", connector="barrel 5.5/2.5"),
    DrawerRecord(kind="parallel", connector=BARREL),
    DrawerRecord(kind="lead", length=600, awg=22, connector=BARREL, count=4),
    DrawerRecord(kind="lead", length=1000, mm2=Decimal("0.5"), connector=BARREL, count=2),
    DrawerRecord(kind="lead", length=450, awg=24, connector="3.5 mono", note="from an older supply"),
)
