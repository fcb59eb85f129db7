"""What can be proved impossible before any search: certificates, each as a sentence with its reason.

All are calculations over the recorded sizes and the board's own rules.
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace

import numpy as np

from boardshop.core.index import fold, index_plan
from boardshop.core.layout.body_checks import check_bodies
from boardshop.core.layout.foot_checks import check_pairs, check_switches, list_pairs, list_switches
from boardshop.core.layout.plug_checks import check_plugs, list_standing_plugs
from boardshop.core.layout.rules import SAME_HEIGHT_MM, TOGETHER_DEPTH_MM, TREADLE_EDGE_MM
from boardshop.core.layout.standing import list_bodies, list_reserved, list_used_jacks
from boardshop.core.naming import called
from boardshop.core.placing.answers import USUAL_WISHES, Wishes
from boardshop.core.placing.arrays import BODY, PLUG, ROOM
from boardshop.core.placing.depths import LARGEST_MM
from boardshop.core.placing.problem import Problem, make_problem
from boardshop.core.placing.things import Shape, Thing
from boardshop.core.plan import BoardPlan, Pedal

MANY_MM2 = 10_000
"""From this on areas are told in cm²."""


@dataclass(frozen=True, slots=True)
class Impossible:
    """``refs`` are the pedals that it is about: none of them, or not all together, can be placed."""

    refs: tuple[str, ...]
    sentence: str
    is_proved: bool = True
    """False where the search is too small for it, which proves nothing."""


def find_impossible(plan: BoardPlan, wishes: Wishes = USUAL_WISHES) -> tuple[str, ...]:
    """Why not all pedals can be placed, as sentences; empty where nothing is proved."""
    return tuple(one.sentence for one in list_impossible(plan, wishes))


def list_impossible(plan: BoardPlan, wishes: Wishes = USUAL_WISHES) -> list[Impossible]:
    problem = make_problem(plan, wishes)
    found = [*_pinned_clashes(plan), *_no_position(problem), *_hopeless_pairs(plan, problem)]
    stuck = {ref for one in found for ref in one.refs}
    return [*found, *_too_much(problem, stuck), *_front_row(problem, stuck)]


def _pinned_clashes(plan: BoardPlan) -> Iterator[Impossible]:
    """Faults among those that are pinned: nothing that moves can cure them.

    What is only asked to stay is left as it stands, whatever is found about it.
    """
    fixed = tuple(pedal for pedal in plan.pedals if pedal.pinned and pedal.place is not None)
    alone = replace(plan, pedals=fixed)
    bodies, reserved = list_bodies(alone), list_reserved(alone)
    switches = list_switches(bodies)
    findings = [
        *check_bodies(replace(alone, frame=replace(alone.frame, rails=())), bodies, reserved),
        *check_plugs(alone, list_standing_plugs(list_used_jacks(alone)), bodies, reserved),
        *check_switches(alone.rules, switches),
        *check_pairs(alone, switches),
    ]
    pinned = {fold(pedal.ref): pedal.ref for pedal in fixed}
    told: set[frozenset[str]] = set()
    for finding in findings:
        if finding.severity not in ("fault", "caution"):
            continue
        refs = [pinned[ref] for s in finding.subjects if (ref := fold(s.split(".")[0])) in pinned]
        if refs and frozenset(refs) not in told:
            told.add(frozenset(refs))
            yield Impossible(tuple(dict.fromkeys(refs)), f"As pinned: {finding.message}")


def _no_position(problem: Problem) -> Iterator[Impossible]:
    """A pedal that, alone with what stays, fits nowhere in any of its turns."""
    fixed = range(problem.movable, len(problem.things))
    for i, thing in enumerate(problem.things[: problem.movable]):
        if any(is_free(problem, i, shape, fixed) for shape in thing.shapes):
            continue
        refs = (thing.ref,) if thing.ref else ()
        if max(problem.plan.frame.width, problem.plan.frame.depth) > LARGEST_MM:
            yield Impossible(refs, _why_too_large(problem, thing), is_proved=False)
        else:
            yield Impossible(refs, _why_nowhere(problem, thing))


def is_free(problem: Problem, i: int, shape: Shape, fixed: Sequence[int]) -> bool:
    """Whether some place in this turn keeps clear of all that is fixed."""
    return shape.is_possible and bool(free_places(problem, i, shape, fixed).any())


def free_places(problem: Problem, i: int, shape: Shape, fixed: Sequence[int]) -> np.ndarray:
    """[x, y] from the shape's least x: whether the place is allowed and clear of the fixed things' parts."""
    wide = shape.high_x - shape.low_x + 1
    free = np.repeat(np.array(shape.depths, np.bool_)[None, :], wide, axis=0)
    for j in fixed:
        thing = problem.things[j]
        assert thing.at is not None
        for part in shape.parts:
            for other in thing.shapes[0].parts:
                if _may_pass(part.height, other.height):
                    continue
                gap = int(problem.model.gaps[part.sort, other.sort])
                x0 = thing.at.x + other.box.x0 - part.box.x1 - gap + 1 - shape.low_x
                x1 = thing.at.x + other.box.x1 - part.box.x0 + gap - shape.low_x
                y0 = thing.at.y + other.box.y0 - part.box.y1 - gap + 1
                y1 = thing.at.y + other.box.y1 - part.box.y0 + gap
                free[max(0, x0) : max(0, x1), max(0, y0) : max(0, y1)] = False
    return free


def _may_pass(one: int | None, other: int | None) -> bool:
    return one is not None and other is not None and abs(one - other) >= SAME_HEIGHT_MM


def _why_nowhere(problem: Problem, thing: Thing) -> str:
    plan = problem.plan
    frame = f"{plan.frame.width} × {plan.frame.depth} mm"
    if not thing.ref:
        return f"The reserved room is larger than the frame of {frame}."
    name = called(index_plan(plan), thing.ref)
    plugs = " with its plugs" if len(thing.shapes[0].parts) > 1 else ""
    needs = min((_needs(shape) for shape in thing.shapes), key=lambda size: size[0] * size[1])
    if all(_needs(s)[0] > plan.frame.width or _needs(s)[1] > plan.frame.depth for s in thing.shapes):
        return (
            f"{name}{plugs} needs {needs[0]} × {needs[1]} mm in its allowed turns, more than the frame of "
            f"{frame}."
        )
    if not any(shape.is_possible for shape in thing.shapes):
        return (
            f"{name} fits on no tier of the frame under its lid in any allowed turn"
            f"{', or not with its front edge at the front' if _is_treadle(plan, thing) else ''}."
        )
    return f"{name} finds no place in any allowed turn beside what is pinned, kept free or kept in place."


def _why_too_large(problem: Problem, thing: Thing) -> str:
    name = called(index_plan(problem.plan), thing.ref) if thing.ref else "The reserved room"
    return f"{name} finds no place in the first {LARGEST_MM} mm of the frame, and more is not searched."


def _is_treadle(plan: BoardPlan, thing: Thing) -> bool:
    return bool(index_plan(plan).pedals[fold(thing.ref)].treadle)


def _needs(shape: Shape) -> tuple[int, int]:
    boxes = [part.box for part in shape.parts if part.sort in (BODY, PLUG, ROOM)]
    return (
        max(box.x1 for box in boxes) - min(box.x0 for box in boxes),
        max(box.y1 for box in boxes) - min(box.y0 for box in boxes),
    )


def _hopeless_pairs(plan: BoardPlan, problem: Problem) -> Iterator[Impossible]:
    """Pairs stepped on together that no distance suits, and chains of pairs that exclude each other."""
    rules = plan.rules
    least, most = rules.together_mm
    apart = max(rules.switch_gap_mm, rules.switch_min_mm)
    index = index_plan(plan)
    pairs = [(one, other) for one, other in list_pairs(plan) if one.switches and other.switches]
    for one, other in pairs:
        if most < apart and len(one.switches) == len(other.switches) == 1:
            yield Impossible(
                (one.ref, other.ref),
                f"{called(index, one.ref)} and {called(index, other.ref)} are to have their switches at most "
                f"{most} mm apart as they are stepped on together, and at least {apart} mm as any two.",
            )
    yield from _crowded(plan, pairs, least, most, apart)


def _crowded(
    plan: BoardPlan, pairs: Sequence[tuple[Pedal, Pedal]], least: int, most: int, apart: int
) -> Iterator[Impossible]:
    """More partners of one pedal than have room beside it: `apart` from each other in a strip each side.

    A partner's switch lies `least` to `most` to one side, and within the depth of a row, so partners on one
    side that keep `apart` from each other fill the band: 1 + (most - least) // apart of them.
    """
    if apart <= 2 * TOGETHER_DEPTH_MM or most < least:
        return
    room = 2 * (1 + (most - least) // apart)
    index = index_plan(plan)
    for pedal in plan.pedals:
        partners = [b if a.ref == pedal.ref else a for a, b in pairs if pedal.ref in (a.ref, b.ref)]
        single = len(pedal.switches) == 1 and all(len(one.switches) == 1 for one in partners)
        if single and len(partners) > room:
            names = ", ".join(called(index, one.ref) for one in partners)
            yield Impossible(
                (pedal.ref, *(one.ref for one in partners)),
                f"{called(index, pedal.ref)} is stepped on together with {len(partners)} others ({names}), "
                f"but only {room} switches have room within {most} mm of its own and {apart} mm from "
                f"each other.",
            )


def _too_much(problem: Problem, stuck: set[str]) -> Iterator[Impossible]:
    """Bodies with half their gap around them, and plugs, that have more area than the frame so widened."""
    areas, there = _areas(problem, stuck)
    needed = sum(area for area, _ in areas)
    if needed > there:
        yield Impossible(
            tuple(ref for _, ref in areas if ref),
            f"The bodies with the gap of {problem.plan.rules.gap_mm} mm between them need {_area(needed)}, "
            f"more than the {_area(there)} that the frame has for them.",
        )


def list_too_many(problem: Problem, stuck: set[str]) -> list[str]:
    """The largest that may move, so many that the rest has no more area than the frame."""
    areas, there = _areas(problem, stuck)
    movable = {thing.ref for thing in problem.things[: problem.movable]}
    gone: list[str] = []
    left = sum(area for area, _ in areas)
    for area, ref in sorted(areas, key=lambda one: -one[0]):
        if left > there and ref in movable and ref:
            gone.append(ref)
            left -= area
    return gone


def _areas(problem: Problem, stuck: set[str]) -> tuple[list[tuple[int, str]], int]:
    """mm² of each body and room with half its gap around it, and of the frame with as much around it."""
    frame, gap = problem.plan.frame, problem.plan.rules.gap_mm
    areas = [
        ((part.box.width + gap) * (part.box.depth + gap), thing.ref)
        for thing in problem.things
        for part in thing.shapes[0].parts
        if part.sort == ROOM or (part.sort == BODY and thing.ref and thing.ref not in stuck)
    ]
    return areas, (frame.width + gap) * (frame.depth + gap)


def _area(mm2: int) -> str:
    return f"{mm2 // 100} cm²" if mm2 >= MANY_MM2 else f"{mm2} mm²"


def _front_row(problem: Problem, stuck: set[str]) -> Iterator[Impossible]:
    """Treadles all stand at the front edge, side by side."""
    plan, gap = problem.plan, problem.plan.rules.gap_mm
    treadles = [t for t in problem.things if t.ref and t.ref not in stuck and _is_treadle(plan, t)]
    if len(treadles) < 2:
        return
    widths = [min(shape.parts[0].box.width for shape in thing.shapes) for thing in treadles]
    needed = sum(widths) + gap * (len(widths) - 1)
    shallow = any(min(s.parts[0].box.depth for s in t.shapes) <= TREADLE_EDGE_MM for t in treadles)
    if needed > plan.frame.width and not shallow:
        names = ", ".join(called(index_plan(plan), thing.ref) for thing in treadles)
        yield Impossible(
            tuple(thing.ref for thing in treadles),
            f"{names} are treadles and stand side by side at the front, where they need {needed} mm; the "
            f"frame is {plan.frame.width} mm wide.",
        )
