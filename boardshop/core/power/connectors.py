"""Connectors of DC leads: what each is known by, and which two only look alike.  Common practice."""

CONNECTOR_NOTES: dict[str, str] = {
    "barrel 5.5/2.1": "The most usual one; which pole is in the middle only the mark beside the jack tells.",
    "barrel 5.5/2.5": "The same from outside, with a thicker pin in the jack.",
    "3.5 mono": "Its tip is plus as a rule; its contacts touch on the way in: plug it in before power is on.",
    "snap": "The battery's; its small stud is plus. Converters to and from it are metered first.",
    "USB": "5 V, its polarity fixed by its shape.",
    "captive": "The lead comes out of the unit itself; the plug at its far end has to be recorded.",
}

MISMATCHES: dict[tuple[str, str], str] = {
    ("barrel 5.5/2.1", "barrel 5.5/2.5"): "its 2.1 mm bore does not go over the 2.5 mm pin",
    ("barrel 5.5/2.5", "barrel 5.5/2.1"): "its 2.5 mm bore sits loose on the 2.1 mm pin and cuts out",
}
"""Plug and jack that look alike; any other unlike two do not mate at all."""
