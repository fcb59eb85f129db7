"""Links: there or not, from where to where, of what; and who moved in the line."""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator, Sequence

from boardshop.core.diff.difference import Difference
from boardshop.core.diff.facts import say, tell_fields
from boardshop.core.diff.types import call_type
from boardshop.core.index import fold, index_plan, split_end
from boardshop.core.naming import called
from boardshop.core.order.paths import SignalPath, signal_paths
from boardshop.core.plan import BoardPlan, Link

OWN_FACTS = ("route", "length", "carries", "screen")
MADE_FACTS = ("made", "made_test")
TYPES = {"cable": "cable", "plug_from": "plug at its start", "plug_to": "plug at its end"}


def compare_wiring(before: BoardPlan, after: BoardPlan) -> Iterator[Difference]:
    old = {fold(link.ref): link for link in before.links}
    new = {fold(link.ref): link for link in after.links}
    if before.links == after.links and before.cables == after.cables and before.plugs == after.plugs:
        return
    moves = list(_compare_lines(before, after))
    yield from moves
    for key, link in new.items():
        if key in old:
            yield from _compare_link(before, after, old[key], link, is_told=bool(moves))
        elif not _stands_at_newcomer(before, link):
            words = f"{link.ref} was added, from {link.source} to {link.target}."
            yield Difference("added", (link.ref,), words)
    for key, link in old.items():
        if key not in new and not _stands_at_newcomer(after, link):
            words = f"{link.ref} was taken away; it went from {link.source} to {link.target}."
            yield Difference("removed", (link.ref,), words)


def _stands_at_newcomer(other: BoardPlan, link: Link) -> bool:
    """Whether one of its ends is at a part that the other plan has not: told with that part."""
    parts = index_plan(other).signal_parts
    return any(fold(split_end(end)[0]) not in parts for end in (link.source, link.target))


def _compare_link(
    before: BoardPlan, after: BoardPlan, old: Link, new: Link, *, is_told: bool
) -> Iterator[Difference]:
    subject = (new.ref,)
    if old.ref != new.ref:
        yield Difference("re-wired", subject, f"{old.ref} is now written {new.ref}.")
    if (fold(old.source), fold(old.target)) != (fold(new.source), fold(new.target)) and not is_told:
        words = f"{new.ref} now goes from {new.source} to {new.target}, before {_say_former(old, new)}."
        yield Difference("re-wired", subject, words)
    for name, words in TYPES.items():
        was, now = call_type(before, getattr(old, name)), call_type(after, getattr(new, name))
        if was != now:
            yield Difference("re-wired", subject, f"{new.ref}: {words} {now} instead of {was}.")
    sentences = [*tell_fields(new.ref, old, new, OWN_FACTS), *_tell_made(old, new)]
    for sentence in sentences:
        yield Difference("re-wired", subject, sentence)


def _tell_made(old: Link, new: Link) -> Iterator[str]:
    """One sentence where another cable is on it, else what is another of the same."""
    if old.made_id == new.made_id:
        yield from tell_fields(new.ref, old, new, MADE_FACTS)
    elif new.made_id is None:
        yield f"{new.ref}: made cable {old.made_id} is no longer on it."
    else:
        before = f" instead of {old.made_id}" if old.made_id else ""
        yield f"{new.ref} is made cable {new.made_id}{before}, {say('made', new.made)}."


def _say_former(old: Link, new: Link) -> str:
    """Only the end that is another now."""
    if fold(old.source) == fold(new.source):
        return f"to {old.target}"
    return f"from {old.source}" + ("" if fold(old.target) == fold(new.target) else f" to {old.target}")


def _compare_lines(before: BoardPlan, after: BoardPlan) -> Iterator[Difference]:
    """Who moved, in each line that has the same ends and pedals as before; nothing where any differs.

    Only where every link that changed lies in such a line, so that the moves tell all there is.
    """
    old, new = signal_paths(before), signal_paths(after)
    if len(old) != len(new) or not all(_is_same_line(*pair) for pair in zip(old, new, strict=True)):
        return
    lines = {fold(link.ref) for path in (*old, *new) for link in path.links}
    changed = set(before.links) ^ set(after.links)
    if not all(fold(link.ref) in lines and link.carries == "signal" for link in changed):
        return
    if _ends(before) != _ends(after):
        return
    index = index_plan(after)
    for was, now in zip(old, new, strict=True):
        refs = [fold(ref) for ref in now.refs]
        for ref in _moved([fold(ref) for ref in was.refs], refs):
            place = refs.index(ref)
            stands = f"after {called(index, now.refs[place - 1])}" if place else "first in its line"
            sentence = f"{called(index, now.refs[place])} stands {stands} now."
            yield Difference("re-wired", (now.refs[place],), sentence)


def _ends(plan: BoardPlan) -> tuple[list[str], list[str]]:
    """The jacks in use: where they are the same, moves in the line are all that was re-wired."""
    return sorted(fold(link.source) for link in plan.links), sorted(fold(link.target) for link in plan.links)


def _is_same_line(one: SignalPath, other: SignalPath) -> bool:
    same_pedals = sorted(map(fold, one.refs)) == sorted(map(fold, other.refs))
    return same_pedals and (one.start, one.end) == (other.start, other.end)


def _moved(before: Sequence[str], after: Sequence[str]) -> list[str]:
    """The fewest that must move to bring one sequence into the other, in the later sequence.

    What stays is a longest increasing subsequence of the former positions (patience sorting).
    """
    positions = {ref: place for place, ref in enumerate(before)}
    places = [positions[ref] for ref in after]
    tails: list[int] = []
    lengths: list[int] = []
    for place in places:
        at = bisect_right(tails, place)
        tails[at : at + 1] = [place]
        lengths.append(at + 1)
    stays: set[str] = set()
    wanted = len(tails)
    for ref, length in zip(reversed(after), reversed(lengths), strict=True):
        if length == wanted:
            last = min((positions[kept] for kept in stays), default=len(before))
            if positions[ref] < last:
                stays.add(ref)
                wanted -= 1
    return [ref for ref in after if ref not in stays]
