"""Why a jack is left unfed, and the smallest things that would feed it."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from boardshop.core.feeds.aims import aim_at_unfed
from boardshop.core.feeds.model import FeedsModel
from boardshop.core.feeds.problem import make_problem
from boardshop.core.feeds.proposal import Proposal
from boardshop.core.index import fold, index_plan
from boardshop.core.lexicographic import Search
from boardshop.core.naming import called
from boardshop.core.plan import BoardPlan, DrawerItem, Outlet, OutletSetting, PowerJack, Supply
from boardshop.core.power.connections import FedJack, find_power_jack
from boardshop.core.power.goals import JOINING
from boardshop.core.power.wording import say_list, say_volts
from boardshop.core.vocabulary import ADAPTERS

DRAW = "its draw"

WORK = 0.3
"""The solver's deterministic seconds for one question, which only asks how many jacks stay unfed."""

LABELS_OVERSTATE = 2
"""A label states at most so many times what the pedal draws: common practice."""

NEW_SUPPLY = "NEW"


@dataclass(frozen=True, slots=True)
class Cure:
    """One thing that feeds more jacks; ``feeds`` is how many more of those that are left unfed."""

    message: str
    feeds: int


@dataclass(frozen=True, slots=True)
class Unfed:
    """A jack that the proposal leaves out, why, and what would feed it, the smallest thing first."""

    jack: str
    message: str
    cures: tuple[Cure, ...]


def explain_unfed(plan: BoardPlan, proposal: Proposal) -> tuple[Unfed, ...]:
    """In the order of the jacks."""
    index = index_plan(plan)
    return tuple(_explain(plan, find_power_jack(index, end), len(proposal.unfed)) for end in proposal.unfed)


def _explain(plan: BoardPlan, fed: FedJack, unfed: int) -> Unfed:
    name = called(index_plan(plan), fed.ref)
    missing = list_missing(fed)
    if missing:
        says = f"{name}: {say_list(missing)} is not recorded, and no outlet is proposed on a guess."
        return Unfed(fed.ref, says, (Cure(f"Record {say_list(missing)}: {_say_source(missing)}", 1),))
    cures = [
        *_try_a_measured_draw(plan, fed, unfed),
        *_try_adapters(plan, fed, unfed),
        *_try_an_outlet(plan, fed, unfed),
    ]
    return Unfed(fed.ref, f"{name}: {_say_why(plan, fed)}", tuple(cures))


def list_missing(fed: FedJack) -> tuple[str, ...]:
    """What nobody recorded of this jack without which no outlet can be chosen for it."""
    jack = fed.jack
    gaps = {
        "DC or AC": jack.current is None,
        "its voltage": jack.nominal is None and (jack.min is None or jack.max is None),
        "its plug polarity": jack.polarity is None and jack.current != "ac",
        "its connector": jack.connector is None,
        DRAW: fed.load_ma is None,
    }
    return tuple(name for name, is_missing in gaps.items() if is_missing)


def _say_source(missing: tuple[str, ...]) -> str:
    label = "read the label or the manual, or ask its maker"
    measure = "measure it at its own voltage with all lights on and the loudest settings"
    if missing == (DRAW,):
        return f"{measure}."
    return f"{label}; {measure}." if DRAW in missing else f"{label}."


def _say_why(plan: BoardPlan, fed: FedJack) -> str:
    jack, load = fed.jack, fed.load_ma or 0
    need = f"{say_volts(jack.nominal or jack.min or 0)} {(jack.current or '').upper()}, {load} mA"
    fitting = _list_fitting_limits(plan, fed)
    if not fitting:
        return f"it needs {need}, and no outlet on this board gives that."
    if max(fitting) < load:
        return f"it needs {need}, and the most that a fitting outlet gives is {max(fitting)} mA."
    return f"it needs {need}, and every outlet that could give it is needed for another pedal."


def _list_fitting_limits(plan: BoardPlan, fed: FedJack) -> list[int]:
    """The limits of all outlets that would fit it, mA, were its draw no matter."""
    problem = make_problem(_with_jack(plan, fed, replace(fed.jack, measured=0)))
    number = [fold(one.ref) for one in problem.jacks].index(fold(fed.ref))
    ports = (problem.ports[way.port] for way in problem.ways if way.jack == number)
    return [port.limit_ma or 0 for port in ports if port.joining == "single"]


def _try_a_measured_draw(plan: BoardPlan, fed: FedJack, unfed: int) -> Iterator[Cure]:
    """A label often states more than the pedal draws: at how little it would be fed."""
    if fed.jack.measured is not None:
        return
    rated = fed.jack.rated or 0
    for limit in sorted(set(_list_fitting_limits(plan, fed)), reverse=True):
        if limit < rated <= limit * LABELS_OVERSTATE:
            less = _count_more_fed(_with_jack(plan, fed, replace(fed.jack, measured=limit)), fed, unfed)
            if less > 0:
                says = f"Measure its draw: the label says {rated} mA; at {limit} mA or less it can be fed."
                yield Cure(says, less)
                return


def _try_adapters(plan: BoardPlan, fed: FedJack, unfed: int) -> Iterator[Cure]:
    """One more of an adapter, where the drawer has none left."""
    if not plan.drawer:
        return
    for kind in ADAPTERS:
        more = _count_more_fed(replace(plan, drawer=(*plan.drawer, DrawerItem(kind))), fed, unfed)
        if more > 0:
            what = f"an adapter that joins two outlets in {kind}" if kind in JOINING else f"a {kind}"
            yield Cure(f"Get {what}: the drawer has none left.", more)


def _try_an_outlet(plan: BoardPlan, fed: FedJack, unfed: int) -> Iterator[Cure]:
    """The least outlet that feeds one jack more, though others may have to move; found by halving."""
    loads = sorted({one.load_ma or 0 for one in _list_alike(plan, fed)})
    if not loads or _count_more_fed(_with_outlet(plan, fed, loads[-1]), fed, unfed) < 1:
        return
    low, high = 0, len(loads) - 1
    while low < high:
        middle = (low + high) // 2
        if _count_more_fed(_with_outlet(plan, fed, loads[middle]), fed, unfed) > 0:
            high = middle
        else:
            low = middle + 1
    headroom = 100 - plan.rules.headroom_percent
    planned = -(-loads[low] * 100 // headroom) if headroom > 0 else loads[low]
    jack = fed.jack
    facts = [say_volts(jack.nominal or jack.min or 0), (jack.current or "").upper(), jack.polarity or ""]
    what = " ".join(word for word in facts if word)
    says = (
        f"One more isolated outlet of {what} for at least {loads[low]} mA, {planned} mA with headroom: "
        f"on a bigger supply or a second one."
    )
    yield Cure(says, _count_more_fed(_with_outlet(plan, fed, loads[low]), fed, unfed))


def _list_alike(plan: BoardPlan, fed: FedJack) -> list[FedJack]:
    """Jacks that an outlet made for this one could feed as well, itself included."""
    index = index_plan(plan)
    all_jacks = (find_power_jack(index, f"{p.ref}.{j.name}") for p in plan.pedals for j in p.power)
    mv = fed.jack.nominal or fed.jack.min or 0
    return [
        one
        for one in all_jacks
        if one.load_ma is not None
        and one.load_ma <= (fed.load_ma or 0)
        and one.jack.current == fed.jack.current
        and (one.jack.min or one.jack.nominal or mv) <= mv <= (one.jack.max or one.jack.nominal or mv)
    ]


def _with_outlet(plan: BoardPlan, fed: FedJack, limit_ma: int) -> BoardPlan:
    jack = fed.jack
    mv = jack.nominal or jack.min or 1
    new = Outlet(
        "1",
        current=jack.current,
        settings=(OutletSetting(mv, mv, limit_ma),),
        polarity=jack.polarity,
        connector=jack.connector,
        regulated=True,
        sag=False,
    )
    ref = NEW_SUPPLY
    while fold(ref) in index_plan(plan).supplies or fold(ref) in index_plan(plan).signal_parts:
        ref += "X"
    return replace(plan, supplies=(*plan.supplies, Supply(ref, outlets=(new,))))


def _with_jack(plan: BoardPlan, fed: FedJack, jack: PowerJack) -> BoardPlan:
    pedals = (
        replace(pedal, power=tuple(jack if one.name == jack.name else one for one in pedal.power))
        if pedal.ref == fed.pedal.ref
        else pedal
        for pedal in plan.pedals
    )
    return replace(plan, pedals=tuple(pedals))


def _count_more_fed(plan: BoardPlan, fed: FedJack, unfed: int) -> int:
    """How many jacks fewer than ``unfed`` stay unfed with this one fed, as far as the work allows to tell."""
    model = FeedsModel(make_problem(plan))
    number = [fold(one.ref) for one in model.problem.jacks].index(fold(fed.ref))
    model.model.add(model.count(model.of_jack[number]) == 1)
    reached = Search(model.model, model.x, WORK).minimize([aim_at_unfed(model)])
    return unfed - reached[0].value if reached else 0
