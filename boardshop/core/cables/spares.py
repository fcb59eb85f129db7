"""Which made cables fit a link: by what they carry, their plugs, and whether they reach."""

from collections.abc import Iterable
from dataclasses import dataclass, replace

from boardshop.core.cables.made import UNKNOWN, Reach, reach_of
from boardshop.core.cables.register_words import KINDS_FOR
from boardshop.core.cables.rules import connectors_mate
from boardshop.core.cables.runs import MeasuredRun, measure_runs
from boardshop.core.index import fold, index_plan
from boardshop.core.plan import BoardPlan, CableType, Jack, Link, PlugType


@dataclass(frozen=True, slots=True)
class SpareCable:
    """A made cable at hand; types are None where nobody recorded them, `verdict` as its last test said."""

    code: str
    kind: str
    length_mm: int
    cable: CableType | None = None
    plug_a: PlugType | None = None
    plug_b: PlugType | None = None
    verdict: str = ""


@dataclass(frozen=True, slots=True)
class SpareFit:
    """A spare on a link, with end A at its start or, ``is_turned``, end B.

    ``against`` says why it cannot be used there, whatever its length; ``notes`` what to know.
    """

    spare: SpareCable
    is_turned: bool
    reach: Reach
    against: tuple[str, ...] = ()
    notes: tuple[str, ...] = ()

    @property
    def fits(self) -> bool:
        """Nothing is against it, and it is not known to be too short."""
        return not self.against and self.reach.state != "too short"


def rank_spares(plan: BoardPlan, ref: str, spares: Iterable[SpareCable]) -> tuple[SpareFit, ...]:
    """Every spare, the best first: those that fit, those known to reach, with the planned plugs and cable,
    tested, and then the least length too many; where that is not known, the shortest.
    Raises KeyError for a link that is not on the board.
    """
    link = {fold(one.ref): one for one in plan.links}[fold(ref)]
    runs: dict[tuple[object, ...], MeasuredRun | None] = {}
    fits = (fit_spare(plan, link, spare, runs) for spare in spares)
    return tuple(sorted(fits, key=lambda fit: rank_fit(plan, link, fit)))


def fit_spare(
    plan: BoardPlan,
    link: Link,
    spare: SpareCable,
    runs: dict[tuple[object, ...], MeasuredRun | None] | None = None,
) -> SpareFit:
    """The better way round; ``runs`` keeps what was measured for one set of plugs and cable."""
    known = {} if runs is None else runs
    ways = [_fit(plan, link, spare, turned, known) for turned in (False, True)]
    return min(ways, key=lambda fit: rank_fit(plan, link, fit))


def _fit(
    plan: BoardPlan,
    link: Link,
    spare: SpareCable,
    is_turned: bool,
    runs: dict[tuple[object, ...], MeasuredRun | None],
) -> SpareFit:
    start, end = (spare.plug_b, spare.plug_a) if is_turned else (spare.plug_a, spare.plug_b)
    reach = _reach(plan, link, spare, (start, end), runs)
    against = [*_wrong_kind(link, spare), *_wrong_plugs(plan, link, start, end)]
    if spare.verdict == "failed":
        against.append("it failed its test")
    notes = [] if spare.verdict == "passed" or spare.verdict == "failed" else ["not tested, or not wholly"]
    return SpareFit(spare, is_turned, reach, tuple(against), (*notes, *_unknown_plugs(start, end)))


def _reach(
    plan: BoardPlan,
    link: Link,
    spare: SpareCable,
    plugs: tuple[PlugType | None, PlugType | None],
    runs: dict[tuple[object, ...], MeasuredRun | None],
) -> Reach:
    """The run is measured anew with the spare's own plugs and cable."""
    if link.length is not None:
        least = Reach("reaches", spare.length_mm - link.length)
        short = Reach("too short", spare.length_mm - link.length)
        return least if spare.length_mm >= link.length else short
    key = (plugs, spare.cable)
    if key not in runs:
        runs[key] = _measure(plan, link, plugs, spare.cable)
    run = runs[key]
    return UNKNOWN if run is None else reach_of(run, spare.length_mm)


def _measure(
    plan: BoardPlan,
    link: Link,
    plugs: tuple[PlugType | None, PlugType | None],
    cable: CableType | None,
) -> MeasuredRun | None:
    if cable is None or None in plugs:
        return None
    refs = ("spare cable", "spare plug a", "spare plug b")
    types = [replace(plug, ref=ref) for plug, ref in zip(plugs, refs[1:], strict=True) if plug]
    tried = replace(link, cable=refs[0], plug_from=refs[1], plug_to=refs[2], made=1)
    alone = replace(
        plan,
        links=(tried,),
        cables=(*plan.cables, replace(cable, ref=refs[0])),
        plugs=(*plan.plugs, *types),
    )
    return measure_runs(alone)[0]


def _wrong_kind(link: Link, spare: SpareCable) -> list[str]:
    if spare.kind in KINDS_FOR.get(link.carries, ()):
        return []
    return [f"it is made for {spare.kind}, the link carries {link.carries}"]


def _wrong_plugs(plan: BoardPlan, link: Link, start: PlugType | None, end: PlugType | None) -> list[str]:
    jacks = index_plan(plan).jacks
    found = []
    for plug, name in ((start, link.source), (end, link.target)):
        jack = jacks.get(fold(name))
        if plug is None or plug.connector is None or not isinstance(jack, Jack) or jack.connector is None:
            continue
        if not connectors_mate(plug.connector, jack.connector):
            found.append(f"its plug {plug.name} does not go into {name}, which is {jack.connector}")
    return found


def _unknown_plugs(start: PlugType | None, end: PlugType | None) -> list[str]:
    unknown = any(plug is None or plug.connector is None for plug in (start, end))
    return ["a plug of it is not recorded"] if unknown else []


def rank_fit(plan: BoardPlan, link: Link, fit: SpareFit) -> tuple[object, ...]:
    """What to sort by: of several spares on one link, or of one spare on several links."""
    spare, index = fit.spare, index_plan(plan)
    planned = [index.plugs.get(fold(ref)) if ref else None for ref in (link.plug_from, link.plug_to)]
    own = [spare.plug_b, spare.plug_a] if fit.is_turned else [spare.plug_a, spare.plug_b]
    cable = index.cables.get(fold(link.cable)) if link.cable else None
    others = sum(_name(one) != _name(other) for one, other in zip(planned, own, strict=True))
    return (
        not fit.fits,
        len(fit.against),
        ("reaches", "no slack", "unknown", "too short").index(fit.reach.state),
        spare.verdict != "passed",
        others,
        _name(cable) != _name(spare.cable),
        abs(fit.reach.spare_mm) if fit.reach.spare_mm is not None else 0,
        spare.length_mm,
        spare.code,
        fit.is_turned,
    )


def _name(one: CableType | PlugType | None) -> str:
    """Types of one shop have names of their own, whatever they are called in a plan."""
    return "" if one is None else fold(one.name or one.ref)
