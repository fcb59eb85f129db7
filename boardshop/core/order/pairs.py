"""Findings of the rules between two pedals of one path."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache

from boardshop.core.findings import Finding
from boardshop.core.index import PlanIndex, index_plan
from boardshop.core.naming import called
from boardshop.core.order.conditions import Answer, Missing, Pair
from boardshop.core.order.engaged import Acting, acts
from boardshop.core.order.pair_rule import BOTH, FIRST, PairRule
from boardshop.core.order.paths import SignalPath, signal_paths
from boardshop.core.order.rules import rules_for
from boardshop.core.order.wording import Gap, say_gaps
from boardshop.core.plan import BoardPlan


@dataclass(frozen=True, slots=True)
class WrongPair:
    """A rule that two pedals break, or might break while a value is not recorded."""

    rule: PairRule
    pair: Pair
    answer: Answer


@dataclass(frozen=True, slots=True)
class Outcome:
    """What another sequence does to the findings between two pedals: rule and severity, each once."""

    settles: tuple[tuple[str, str], ...]
    brings: tuple[tuple[str, str], ...]


def compare_sequences(path: SignalPath, school: str, after: Sequence[str]) -> Outcome:
    """Of ``after`` against the path as it is; nothing is told of a line that passes a pedal several times."""
    if len(set(path.stops)) < len(path.stops) or set(after) != set(path.refs):
        return Outcome((), ())
    pedals = {pedal.ref: pedal for pedal in path.pedals}
    moved = replace(path, pedals=tuple(pedals[ref] for ref in after), acts_after=tuple(range(len(after))))
    then, now = _broken(moved, school), _broken(path, school)
    return Outcome(_told(one for one in now if one not in then), _told(one for one in then if one not in now))


type _Broken = dict[tuple[str, str, str, str], None]
"""Rule, severity and the refs of both pedals."""


@lru_cache(maxsize=256)
def _broken(path: SignalPath, school: str) -> _Broken:
    wrong = _wrong_pairs((path,), school, None)
    return {
        (one.rule.id, one.rule.severity, one.pair.first.ref, one.pair.then.ref): None
        for one in wrong
        if one.answer is True
    }


def _told(broken: Iterable[tuple[str, str, str, str]]) -> tuple[tuple[str, str], ...]:
    return tuple(sorted({(rule, severity) for rule, severity, _, _ in broken}))


def check_pairs(plan: BoardPlan, acting: Acting = None) -> tuple[Finding, ...]:
    """Of the whole board, or of the pedals that act in a scene.

    One finding for each rule and pair, on however many paths; one for each rule and value not recorded.
    """
    index = index_plan(plan)
    findings: dict[tuple[str, str, str], Finding] = {}
    gaps: list[Gap] = []
    for wrong in _wrong_pairs(signal_paths(plan), plan.rules.school, acting):
        first, then = wrong.pair.first.ref, wrong.pair.then.ref
        if isinstance(wrong.answer, Missing):
            gaps.append(Gap(wrong.rule.id, wrong.answer, (then, first), wrong.rule.why))
        else:
            findings.setdefault((wrong.rule.id, first, then), _finding(index, wrong.rule, first, then))
    return (*findings.values(), *say_gaps(index, gaps))


def _wrong_pairs(paths: Iterable[SignalPath], school: str, acting: Acting) -> Iterator[WrongPair]:
    for path in paths:
        slots = path.slots
        in_turn = sorted(range(len(slots)), key=lambda i: _acting_position(path, slots, i))
        for later, j in enumerate(in_turn):
            for i in in_turn[:later]:
                for rule in rules_for(slots[j], slots[i], school):
                    pair = Pair(path.pedals[j], path.pedals[i], path, acting)
                    answer = _answer(rule, pair)
                    if answer is not False:
                        yield WrongPair(rule, pair, answer)


def _answer(rule: PairRule, pair: Pair) -> Answer:
    """Whether the rule is broken so that it is heard."""
    if rule.heard_with in (BOTH, FIRST) and not acts(pair.acting, pair.first):
        return False
    if rule.heard_with == BOTH and not acts(pair.acting, pair.then):
        return False
    return True if rule.condition is None else rule.condition(pair)


def _acting_position(path: SignalPath, slots: tuple[str, ...], position: int) -> tuple[int, bool]:
    """A gate with its own loop closes behind the last pedal in it; all others act where they stand."""
    if slots[position] == "four-jack gate":
        return path.acts_after[position], True
    return position, False


def _finding(index: PlanIndex, rule: PairRule, first: str, then: str) -> Finding:
    early, late = called(index, then), called(index, first)
    also = f", {rule.also}" if rule.also else ""
    kept = f", or keep it if {rule.kept_for}" if rule.kept_for else ""
    return Finding(
        rule=rule.id,
        severity=rule.severity,
        subjects=(then, first),
        message=f"{early} comes before {late}: {rule.why}.",
        cure=f"Move {late} in front of {early}{also}{kept}.",
        basis="common practice",
    )
