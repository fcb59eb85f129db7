"""Findings about the wiring: what is not linked, comes back, leads nowhere, or goes through the amp."""

from collections.abc import Iterable, Iterator

from boardshop.core.findings import Finding
from boardshop.core.index import PlanIndex, fold, index_plan, split_end
from boardshop.core.naming import called
from boardshop.core.order.graph import CONTROL_KINDS, SignalGraph, Stage, signal_graph, signal_links
from boardshop.core.order.paths import MOST_PATHS, trace_paths
from boardshop.core.order.standing_rules import STANDING_RULES
from boardshop.core.order.wording import say_list, say_refs
from boardshop.core.plan import Amp, BoardPlan, Link

SOUNDS_BY_ITSELF = ("wireless-receiver", *CONTROL_KINDS)
"""What begins a chain with nothing in front, or has no place in one."""


def check_wiring(plan: BoardPlan) -> tuple[Finding, ...]:
    """What keeps the order from being judged, or the sound from being heard."""
    return (
        *_unlinked(plan),
        *_silent(plan),
        *_cycles(plan),
        *_left_off(plan),
        *_open_ends(plan),
        *_open_beginnings(plan),
        *_four_cables(plan),
        *_single_ways(plan),
    )


def _silent(plan: BoardPlan) -> Iterator[Finding]:
    """O04: a board with an amp whose instrument reaches none; a chain that ends in a di leads elsewhere."""
    if not plan.amps or not signal_links(plan):
        return
    heard = _heard_starts(plan)
    for source in plan.sources:
        if fold(source.ref) not in heard:
            yield STANDING_RULES["O04"].finding(
                (source.ref,),
                f"The signal of {source.ref} reaches no amp: a link is missing, so it is not heard.",
                "Follow the line from the instrument, and link what is open.",
            )


def _heard_starts(plan: BoardPlan) -> set[str]:
    """The folded refs of the instruments whose signal gets to an amp or a di."""
    onward: dict[str, list[str]] = {}
    for link in signal_links(plan):
        onward.setdefault(_from(link), []).append(_to(link))
    goals = {fold(amp.ref) for amp in plan.amps}
    goals |= {fold(pedal.ref) for pedal in plan.pedals if pedal.kind == "di"}
    refs = (fold(source.ref) for source in plan.sources)
    return {ref for ref in refs if _reaches(onward, ref, goals)}


def _reaches(onward: dict[str, list[str]], start: str, goals: set[str]) -> bool:
    seen, waiting = {start}, [start]
    while waiting:
        ref = waiting.pop()
        if ref in goals:
            return True
        fresh = [other for other in onward.get(ref, ()) if other not in seen]
        seen.update(fresh)
        waiting += fresh
    return False


def _unlinked(plan: BoardPlan) -> Iterator[Finding]:
    linked = {ref for link in signal_links(plan) for ref in (_from(link), _to(link))}
    audio = (pedal.ref for pedal in plan.pedals if pedal.kind not in CONTROL_KINDS)
    refs = tuple(ref for ref in audio if fold(ref) not in linked)
    if refs:
        yield STANDING_RULES["O01"].finding(
            refs,
            f"No signal link leads to or from {say_refs(index_plan(plan), refs)}, so the place in the order "
            "cannot be checked.",
            "Link what is played; take the rest off the board, or keep this if it waits as a spare.",
        )


def _cycles(plan: BoardPlan) -> Iterator[Finding]:
    for refs in signal_graph(plan).cycles:
        yield STANDING_RULES["O02"].finding(
            refs,
            f"The signal of {say_refs(index_plan(plan), refs)} comes back to itself: it howls, or passes "
            "nothing on.",
            "Take out the link that leads back, or keep it if the feedback is played on purpose.",
        )


def _left_off(plan: BoardPlan) -> Iterator[Finding]:
    for ref in trace_paths(plan).left_off:
        yield STANDING_RULES["O03"].finding(
            (ref,),
            f"The signal from {ref} can take more ways than the {MOST_PATHS} that are checked here.",
            "Check the other branches by ear, or plan them as a board of their own.",
        )


def _open_ends(plan: BoardPlan) -> Iterator[Finding]:
    """O05: where a signal that is heard by another way, or comes from an amp's send, leads nowhere."""
    if not plan.amps:
        return
    index, graph, heard = index_plan(plan), signal_graph(plan), _heard_starts(plan)
    found: dict[str, None] = {}
    for start in graph.starts:
        if start.is_send or (start.end is not None and fold(split_end(start.end)[0]) in heard):
            stages = _reached(graph, (step.stage for step in start.steps if step.stage is not None))
            found |= dict.fromkeys(stage.ref for stage in stages if not graph.steps[stage])
    for pedal in (index.pedals[ref] for ref in found):
        if pedal.kind in ("di", *CONTROL_KINDS):
            continue
        name = called(index, pedal.ref)
        yield STANDING_RULES["O05"].finding(
            (pedal.ref,),
            f"The signal ends open at {name}: nothing leads on from it, so this branch is not heard.",
            f"Link an output of {name} to the mixer, the return or the amp that it belongs to, or keep this "
            "if it only listens.",
        )


def _open_beginnings(plan: BoardPlan) -> Iterator[Finding]:
    """O05, the other end: on a board with an instrument a chain that nothing feeds."""
    if not plan.sources:
        return
    index, graph = index_plan(plan), signal_graph(plan)
    circling = {fold(ref) for refs in graph.cycles for ref in refs}
    for start in graph.starts:
        stage = start.steps[0].stage
        if start.end is not None or stage is None or stage.ref in circling:
            continue
        pedal = index.pedals[stage.ref]
        if pedal.kind in SOUNDS_BY_ITSELF:
            continue
        name = called(index, pedal.ref)
        yield STANDING_RULES["O05"].finding(
            (pedal.ref,),
            f"Nothing feeds {name}, so this branch is not heard.",
            f"Link what belongs in front of {name}, or keep this if it makes a sound of its own.",
        )


def _reached(graph: SignalGraph, first: Iterable[Stage]) -> dict[Stage, None]:
    reached: dict[Stage, None] = {}
    waiting = list(first)
    while waiting:
        stage = waiting.pop()
        if stage not in reached:
            reached[stage] = None
            waiting += [step.stage for step in graph.steps[stage] if step.stage is not None]
    return reached


def _four_cables(plan: BoardPlan) -> Iterator[Finding]:
    """O06: pedals in front of an amp and in its loop, so that three leads run between board and amp."""
    index = index_plan(plan)
    for amp in plan.amps:
        leads = {role: _board_lead(plan, index, amp, role) for role in ("in", "send", "return")}
        front, send, back = leads["in"], leads["send"], leads["return"]
        if front is None or send is None or back is None:
            continue
        wet = _not_known_wet(plan, amp)
        parallel = (
            f"; in a parallel one the dry sound of {say_refs(index, wet)} must be switched off" if wet else ""
        )
        yield STANDING_RULES["O06"].finding(
            (amp.ref,),
            f"{say_list((front.ref, send.ref, back.ref))} run between the board and {amp.ref} (four-cable "
            f"method): with the ground of {amp.ref} they enclose a loop, and the level and kind of the amp's "
            "loop decide how its pedals sound.",
            "Tie the three leads into one loom, set the send's level to suit the pedals, and find out "
            f"whether the loop of {amp.ref} is series or parallel{parallel}.",
        )


def _board_lead(plan: BoardPlan, index: PlanIndex, amp: Amp, role: str) -> Link | None:
    """The first link between a pedal and a jack of this role of the amp."""
    ends = {fold(f"{amp.ref}.{jack.name}") for jack in amp.jacks if jack.role == role}
    for link in signal_links(plan):
        if role == "send" and fold(link.source) in ends and _to(link) in index.pedals:
            return link
        if role != "send" and fold(link.target) in ends and _from(link) in index.pedals:
            return link
    return None


def _not_known_wet(plan: BoardPlan, amp: Amp) -> tuple[str, ...]:
    """The delays and reverbs in the amp's loop whose dry sound is on, or may be."""
    paths = (path for path in trace_paths(plan).paths if path.in_loop and path.start is not None)
    own = (path for path in paths if fold(split_end(path.start or "")[0]) == fold(amp.ref))
    pedals = {pedal.ref: pedal for path in own for pedal in path.pedals}
    return tuple(ref for ref, one in pedals.items() if one.kind in ("delay", "reverb") and not one.kills_dry)


def _single_ways(plan: BoardPlan) -> Iterator[Finding]:
    """O07: a splitter or mixer in the signal with a single way on its side of several."""
    links, index = signal_links(plan), index_plan(plan)
    for pedal in plan.pedals:
        ways = {fold(link.target) for link in links if _to(link) == fold(pedal.ref)}
        what, does = "feeds", "mix"
        if pedal.kind == "splitter":
            ways = {fold(link.source) for link in links if _from(link) == fold(pedal.ref)}
            what, does = "leaves", "part"
        if pedal.kind in ("splitter", "mixer") and len(ways) == 1:
            name = called(index, pedal.ref)
            yield STANDING_RULES["O07"].finding(
                (pedal.ref,),
                f"One way {what} {name}, so it has nothing to {does} and only stands in the signal.",
                f"Link its other way or take {name} out, or keep this if it is plugged in at times.",
            )


def _from(link: Link) -> str:
    return fold(split_end(link.source)[0])


def _to(link: Link) -> str:
    return fold(split_end(link.target)[0])
