"""The rules of order scene by scene: what of the board's findings is heard in each, and what only there."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import lru_cache

from boardshop.core.findings import Finding, sort_findings
from boardshop.core.order.engaged import Acting, acting_in
from boardshop.core.order.pairs import check_pairs
from boardshop.core.order.parallel import check_parallel
from boardshop.core.order.places import check_places
from boardshop.core.order.wiring import check_wiring
from boardshop.core.order.wording import say_list
from boardshop.core.plan import BoardPlan, Scene

type Named = tuple[str, tuple[str, ...]]
"""A finding by its rule and its subjects."""


@dataclass(frozen=True, slots=True)
class SceneOrder:
    """``heard`` are the findings that concern this scene, by rule and subjects, in the report's sequence."""

    name: str
    heard: tuple[Named, ...]


@dataclass(frozen=True, slots=True)
class JudgedOrder:
    findings: tuple[Finding, ...]
    scenes: tuple[SceneOrder, ...]


@lru_cache(maxsize=32)
def judge_order(plan: BoardPlan) -> JudgedOrder:
    """The findings with all pedals engaged, and those that only a scene shows, which say in which.

    A value that nobody recorded is asked for once, for the whole board.
    """
    whole = judge(plan)
    by_scene = [(scene, judge(plan, acting_in(plan, scene))) for scene in plan.scenes]
    known = {name_of(one) for one in whole}
    only: dict[Named, tuple[Finding, list[Scene]]] = {}
    for scene, found in by_scene:
        for one in found:
            if name_of(one) not in known and one.severity != "unknown":
                only.setdefault(name_of(one), (one, []))[1].append(scene)
    findings = sort_findings((*whole, *(_in_scenes(one, scenes) for one, scenes in only.values())))
    return JudgedOrder(findings, tuple(_heard(scene, found, findings) for scene, found in by_scene))


def judge(plan: BoardPlan, acting: Acting = None) -> tuple[Finding, ...]:
    """All rules of order, of the whole board or of the pedals that act in a scene."""
    return sort_findings(
        (
            *check_pairs(plan, acting),
            *check_places(plan, acting),
            *check_parallel(plan, acting),
            *check_wiring(plan),
        )
    )


def name_of(finding: Finding) -> Named:
    return finding.rule, finding.subjects


def _heard(scene: Scene, found: Iterable[Finding], findings: Iterable[Finding]) -> SceneOrder:
    """A missing value is asked for all that it decides on the board, and in a scene for what acts there."""
    here = list(found)
    named = {name_of(one) for one in here}
    asked = [one for one in here if one.severity == "unknown"]
    heard = (
        one
        for one in findings
        if name_of(one) in named or (one.severity == "unknown" and any(_is_part(a, one) for a in asked))
    )
    return SceneOrder(scene.name, tuple(name_of(one) for one in heard))


def _is_part(asked: Finding, whole: Finding) -> bool:
    return asked.rule == whole.rule and set(asked.subjects) <= set(whole.subjects)


def _in_scenes(finding: Finding, scenes: Iterable[Scene]) -> Finding:
    names = [f"“{scene.name}”" for scene in scenes]
    word = "scene" if len(names) == 1 else "scenes"
    return replace(finding, message=f"In the {word} {say_list(names)}: {finding.message}")
