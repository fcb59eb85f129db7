"""When a made cable is to be tested again, and when a lead in use is to be replaced.

Basis: common practice.  Soldered plugs every 20 to 30 shows or 6 months, solderless ones every 10 to 15
shows or 3 months; a lead in use is replaced after 12 months.  The earlier bound counts.  A screw can work
loose like a solderless plug, a moulded plug has its joints made like soldered ones: both from memory.
After a drop, a flight or a wet show a test is due whatever stands here.
"""

from calendar import monthrange
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date

LEAD_MONTHS = 12


@dataclass(frozen=True, slots=True)
class Interval:
    months: int
    shows: int


SOLDERED, SOLDERLESS = Interval(6, 20), Interval(3, 10)
INTERVALS = {"soldered": SOLDERED, "moulded": SOLDERED, "solderless": SOLDERLESS, "screw": SOLDERLESS}
"""By how a plug is fixed to its cable; a plug that is not in here is not recorded."""


@dataclass(frozen=True, slots=True)
class Retest:
    """`state` is `never tested`, `due`, `not due` or `unknown`; `due_on` is None where nobody can tell."""

    state: str
    said: str
    brief: str
    """For a row of a list: `retest due`, `retest 2026-09-01`, `retest 2026-06-01 or later`."""
    due_on: date | None = None
    replace_on: date | None = None
    is_worn: bool = False
    """Whether the day on which to replace a lead in use has come."""

    @property
    def is_due(self) -> bool:
        return self.state in ("due", "never tested")


def judge_retest(
    *,
    tested_on: date | None,
    fixings: Sequence[str | None],
    today: date,
    shows_since: int | None = None,
    lead_since: date | None = None,
    has_failed: bool = False,
) -> Retest:
    """`fixings` are the words for both plugs, None where not recorded; the one that asks for more counts.

    `shows_since` counts shows since the last test where they are recorded; `lead_since` is since when it is
    in use as an instrument's or amp's lead.
    """
    replace_on = add_months(lead_since, LEAD_MONTHS) if lead_since else None
    found = FAILED if has_failed else _judge(tested_on, fixings, today, shows_since)
    if replace_on is None:
        return found
    is_worn = today >= replace_on
    when = "in use for 12 months: replace it" if is_worn else f"replace the lead on {replace_on}"
    brief = f"{found.brief}, replace it" if is_worn else found.brief
    return replace(found, said=f"{found.said}; {when}", brief=brief, replace_on=replace_on, is_worn=is_worn)


FAILED = Retest("due", "to be mended and tested", "mend and test")
NEVER = Retest("never tested", "not tested in full yet", "not tested in full")


def _judge(tested_on: date | None, fixings: Sequence[str | None], today: date, shows: int | None) -> Retest:
    if tested_on is None:
        return NEVER
    known = [INTERVALS[word] for word in fixings if word in INTERVALS]
    is_known = len(known) == len(fixings) and bool(known)
    interval = min(known, key=lambda one: one.months, default=SOLDERED)
    due_on = add_months(tested_on, interval.months)
    if today >= due_on:
        return Retest("due", f"retest due since {due_on}", "retest due", due_on)
    if shows is not None and shows >= interval.shows:
        return Retest("due", f"retest due, {shows} shows since the last test", "retest due", due_on)
    # A solderless plug asks soonest, so a recorded one settles it whatever the other is.
    if is_known or interval == SOLDERLESS:
        return Retest("not due", f"retest due on {due_on}", f"retest {due_on}", due_on)
    soonest = add_months(tested_on, SOLDERLESS.months)
    said = f"retest between {soonest} and {due_on}, how its plugs are fixed is not recorded"
    return Retest("unknown", said, f"retest {soonest} or later")


def add_months(day: date, months: int) -> date:
    """The same day so many months on; the last of a shorter month."""
    year, month = divmod(day.year * 12 + day.month - 1 + months, 12)
    return date(year, month + 1, min(day.day, monthrange(year, month + 1)[1]))
