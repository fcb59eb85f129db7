"""What feeds each power jack, with its lead."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from boardshop.core.diff.difference import Difference
from boardshop.core.diff.facts import figure, say, volts
from boardshop.core.diff.parts import is_exchanged
from boardshop.core.diff.types import call_type
from boardshop.core.index import PlanIndex, fold, index_plan, split_end
from boardshop.core.naming import say_all
from boardshop.core.plan import BoardPlan, DcLead, Feed, Tail

NOTHING = "nothing"


@dataclass(frozen=True, slots=True)
class Fed:
    """One jack's feed in words, each fact by its name."""

    by: str
    chain: tuple[str, ...]
    facts: dict[str, str]


def compare_feeding(before: BoardPlan, after: BoardPlan) -> Iterator[Difference]:
    if before.feeds == after.feeds and before.plugs == after.plugs:
        return
    old, new = index_plan(before), index_plan(after)
    for key in dict.fromkeys((*_jacks(after), *_jacks(before))):
        ref = fold(split_end(key)[0])
        if ref in old.pedals and ref in new.pedals:
            yield from _compare_jack(before, after, key)
        elif ref in new.pedals:
            yield from _told_with(new, key)


def _told_with(index: PlanIndex, key: str) -> Iterator[Difference]:
    """A pedal that came already fed."""
    feed = index.feed_of_jack[key]
    jack = next(one for one in feed.jacks if fold(one) == key)
    yield Difference("re-fed", (jack,), f"{_call(index, jack)} is fed from {_say_outlets(feed)}.")


def _jacks(plan: BoardPlan) -> list[str]:
    return [fold(jack) for feed in plan.feeds for jack in feed.jacks]


def _compare_jack(before: BoardPlan, after: BoardPlan, key: str) -> Iterator[Difference]:
    old, new = _fed(before, key), _fed(after, key)
    if old == new:
        return
    index = index_plan(after)
    jack = _written(after, key) or _written(before, key)
    ref = fold(split_end(key)[0])
    is_other = is_exchanged(index_plan(before).pedals[ref], index.pedals[ref])
    of, subject = jack if is_other else _call(index, jack), (jack,)
    if old.by != new.by:
        yield Difference("re-fed", subject, f"{of} {_say_other_feed(old.by, new.by)}.")
    if old.chain != new.chain and new.by != NOTHING:
        yield Difference(
            "re-fed", subject, f"{of} {_say_chain(new.chain)}, before it {_say_chain(old.chain)}."
        )
    if NOTHING in (old.by, new.by):
        return
    for name, now in new.facts.items():
        if old.facts[name] != now:
            yield Difference("re-fed", subject, f"{of}: {name} {now} instead of {old.facts[name]}.")


def _fed(plan: BoardPlan, key: str) -> Fed:
    feed = index_plan(plan).feed_of_jack.get(key)
    if feed is None:
        return Fed(NOTHING, (), {})
    others = sorted(jack for jack in feed.jacks if fold(jack) != key)
    lead = feed.lead or DcLead()
    tails = dict(zip(map(fold, feed.jacks), lead.tails or (Tail(),) * len(feed.jacks), strict=True))
    facts = {
        "adapters": say_all(feed.adapters) or "none",
        "pinned": say("", feed.pinned),
        "lead": _say_lead(plan, feed.lead),
        "tail": _say_tail(tails[key]),
        "tails": "recorded" if lead.tails else "none",
    }
    return Fed(_say_outlets(feed), tuple(others), facts)


def _say_outlets(feed: Feed) -> str:
    settings = feed.settings or (None,) * len(feed.outlets)
    return say_all(
        outlet if mv is None else f"{outlet} at {volts(mv)} V"
        for outlet, mv in zip(feed.outlets, settings, strict=True)
    )


def _say_other_feed(old: str, new: str) -> str:
    if new == NOTHING:
        return f"is no longer fed; before it was fed from {old}"
    return f"is fed from {new}" + (", and was not fed before" if old == NOTHING else f" instead of {old}")


def _say_chain(others: tuple[str, ...]) -> str:
    return f"hangs on one lead with {say_all(others)}" if others else "has its lead to itself"


def _say_lead(plan: BoardPlan, lead: DcLead | None) -> str:
    if lead is None:
        return "not recorded"
    facts = [f"{lead.length} mm" if lead.length else "", f"AWG {lead.awg}" if lead.awg is not None else ""]
    facts += [f"{figure(lead.mm2)} mm²" if lead.mm2 else "", lead.connector or ""]
    facts += [call_type(plan, lead.plug)] if lead.plug else []
    return ", ".join(filter(None, facts)) or "of unknown length"


def _say_tail(tail: Tail) -> str:
    facts = [f"{tail.length} mm" if tail.length else "", f"AWG {tail.awg}" if tail.awg is not None else ""]
    facts += [f"{figure(tail.mm2)} mm²" if tail.mm2 else ""]
    return ", ".join(filter(None, facts)) or "not recorded"


def _written(plan: BoardPlan, key: str) -> str:
    feed = index_plan(plan).feed_of_jack.get(key)
    return next((jack for jack in feed.jacks if fold(jack) == key), "") if feed else ""


def _call(index: PlanIndex, jack: str) -> str:
    """`Slow Tide (P7)`, with the jack's name where the pedal has several power jacks."""
    ref, name = split_end(jack)
    pedal = index.pedals.get(fold(ref))
    if pedal is None:
        return jack
    shown = f"{pedal.ref}.{name}" if len(pedal.power) > 1 else pedal.ref
    return f"{pedal.name} ({shown})" if pedal.name and pedal.name != pedal.ref else shown
