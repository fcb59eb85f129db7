"""What the layout rules need and nobody recorded: each named once, all things that lack the same together."""

from collections.abc import Iterator, Sequence

from boardshop.core.findings import Finding
from boardshop.core.index import fold, index_plan
from boardshop.core.layout.rules import TREADLE_KINDS, layout_finding
from boardshop.core.layout.standing import Body, UsedJack
from boardshop.core.layout.supply_checks import list_under
from boardshop.core.naming import called
from boardshop.core.plan import BoardPlan, Pedal


def find_missing(plan: BoardPlan, bodies: Sequence[Body], used: Sequence[UsedJack]) -> Iterator[Finding]:
    yield from _unplaced(plan)
    yield from _plugs_unknown([use for use in used if use.pedal.place is not None])
    yield from _feet_unknown(plan)
    yield from _lid_unknown(plan, bodies)
    yield from _under_unknown(plan)
    yield from _rails_unknown(plan, bodies)


def _unplaced(plan: BoardPlan) -> Iterator[Finding]:
    pedals = [pedal for pedal in plan.pedals if pedal.place is None]
    if pedals:
        message = (
            f"{_names(plan, pedals)} {_have(pedals)} no place on the frame yet, so no fit is checked there."
        )
        yield layout_finding("L21", tuple(pedal.ref for pedal in pedals), message)
    for supply in plan.supplies:
        if supply.place is None:
            message = f"Where the supply {supply.ref} is on or under the frame is not recorded."
            yield layout_finding("L22", (supply.ref,), message)
        elif supply.width is None or supply.depth is None:
            message = (
                f"The width or depth of the supply {supply.ref} is not recorded, so its place is not checked."
            )
            yield layout_finding("L22", (supply.ref,), message)


def _plugs_unknown(used: Sequence[UsedJack]) -> Iterator[Finding]:
    nowhere = _ends([u for u in used if u.jack is None or u.jack.side is None or u.jack.offset is None])
    if nowhere:
        sits, its = ("sits on its pedal", "its plug is") if len(nowhere) == 1 else ("sit", "their plugs are")
        message = f"Where {say_list(nowhere)} {sits} is not recorded, so {its} not checked."
        yield layout_finding("L23", nowhere, message)
    unchosen = _ends([u for u in used if u.plug is None])
    if unchosen:
        message = f"Which plug goes into {say_list(unchosen)} is not chosen, so its room is not checked."
        yield layout_finding("L24", unchosen, message)
    plugs = {u.plug.ref: u.plug for u in used if u.plug is not None}
    for plug in plugs.values():
        lacking = [name for name in ("reach", "width") if getattr(plug, name) is None]
        if lacking:
            message = (
                f"The {' and '.join(lacking)} of plug {plug.ref} is not recorded, so its room is not checked."
            )
            yield layout_finding("L25", (plug.ref,), message)


def _feet_unknown(plan: BoardPlan) -> Iterator[Finding]:
    placed = [pedal for pedal in plan.pedals if pedal.place is not None]
    partners = {fold(ref) for pedal in plan.pedals for ref in pedal.together}
    stepped_on = [p for p in placed if p.use > 0 or p.together or fold(p.ref) in partners]
    blind = [p for p in stepped_on if not p.switches and not p.treadle]
    if blind:
        message = (
            f"{_names(plan, blind)} {'are' if len(blind) > 1 else 'is'} stepped on, but where the foot "
            f"switch sits is not recorded, so its distance to others is not checked."
        )
        yield layout_finding("L29", tuple(pedal.ref for pedal in blind), message)
    unsaid = [pedal for pedal in placed if pedal.treadle is None and pedal.kind in TREADLE_KINDS]
    if unsaid:
        message = (
            f"Whether {_names(plan, unsaid)} {'are treadles' if len(unsaid) > 1 else 'is a treadle'} is not "
            f"recorded, so the room for the heel is not checked."
        )
        yield layout_finding("L30", tuple(pedal.ref for pedal in unsaid), message)


def _lid_unknown(plan: BoardPlan, bodies: Sequence[Body]) -> Iterator[Finding]:
    if plan.frame.lid is None:
        if bodies:
            yield layout_finding("L27", ("frame",), "The free height under the lid is not recorded.")
        return
    unmeasured = [body for body in bodies if body.height is None]
    if unmeasured:
        message = (
            f"The height of {say_list([body.label for body in unmeasured])} is not recorded, so whether the "
            f"lid closes is not known."
        )
        yield layout_finding("L26", tuple(body.ref for body in unmeasured), message)


def _under_unknown(plan: BoardPlan) -> Iterator[Finding]:
    for placed in list_under(plan):
        supply = placed.supply
        lacking = ["the free height under the frame"] if plan.frame.under is None else []
        lacking += ["the supply's height"] if supply.height is None else []
        if lacking:
            what = f"{' and '.join(lacking)} {'are' if len(lacking) > 1 else 'is'} not recorded"
            message = f"Whether {supply.ref} fits under the frame is not known: {what}."
            yield layout_finding("L28", (supply.ref,), message)


def _rails_unknown(plan: BoardPlan, bodies: Sequence[Body]) -> Iterator[Finding]:
    half_recorded = any(entry.where == "frame/rails" for entry in plan.incomplete)
    on_rails = plan.frame.surface == "slotted" and not plan.frame.rails and not half_recorded
    if on_rails and any(body.pedal is not None for body in bodies):
        message = (
            "Where the rails of the slotted frame are is not recorded, so whether pedals tip is not known."
        )
        yield layout_finding("L31", ("frame",), message)


def _ends(used: Sequence[UsedJack]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(use.end for use in used))


def _names(plan: BoardPlan, pedals: Sequence[Pedal]) -> str:
    index = index_plan(plan)
    return say_list([called(index, pedal.ref) for pedal in pedals])


def _have(pedals: Sequence[Pedal]) -> str:
    return "have" if len(pedals) > 1 else "has"


def say_list(names: Sequence[str]) -> str:
    """`a`, `a and b`, `a, b and c`."""
    return "".join(names) if len(names) < 2 else f"{', '.join(names[:-1])} and {names[-1]}"
