"""Made cables on a board: whether each still reaches, and where in the chain it is."""

from dataclasses import dataclass
from math import ceil, floor

from boardshop.core.cables.runs import MeasuredRun, measure_runs
from boardshop.core.index import fold, index_plan, split_end
from boardshop.core.plan import Amp, BoardPlan, Link, Source


@dataclass(frozen=True, slots=True)
class Reach:
    """`state` is `reaches`, `no slack`, `too short` or `unknown`.

    ``spare_mm`` is what the cable has beyond its run and both plugs, below zero where it does not reach.
    """

    state: str
    spare_mm: int | None = None

    @property
    def said(self) -> str:
        if self.spare_mm is None:
            return "not known whether it reaches"
        if self.state == "too short":
            return f"does not reach, {-self.spare_mm} mm too short"
        slack = " without the slack of a new one" if self.state == "no slack" else ""
        return f"reaches{slack}, {self.spare_mm} mm to spare"


UNKNOWN = Reach("unknown")


def reach_of(run: MeasuredRun, made_mm: int) -> Reach:
    """Whether a cable cut to ``made_mm`` goes where this run goes now."""
    if run.needed_mm is None or run.cut_mm is None:
        return UNKNOWN
    if made_mm < run.needed_mm:
        return Reach("too short", -ceil(run.needed_mm - made_mm))
    return Reach("no slack" if made_mm < run.cut_mm else "reaches", floor(made_mm - run.needed_mm))


def list_reaches(plan: BoardPlan) -> dict[str, Reach]:
    """Of every link that is made, by its folded ref; a lead of given length has no run to reach over."""
    made = [run for run in measure_runs(plan) if run.link.made is not None]
    return {fold(run.link.ref): reach_of(run, run.link.made or 0) for run in made}


def chain_place(plan: BoardPlan, link: Link) -> str:
    """`first` from an instrument, `last` to an amp, else `between`."""
    parts = index_plan(plan).signal_parts
    if isinstance(parts.get(fold(split_end(link.source)[0])), Source):
        return "first"
    return "last" if isinstance(parts.get(fold(split_end(link.target)[0])), Amp) else "between"
