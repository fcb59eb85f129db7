"""What cables cost: cable by the metre and plugs, against finished ones; a price nobody recorded is named."""

from collections.abc import Iterable
from dataclasses import dataclass
from decimal import Decimal

from boardshop.core.cables.runs import measure_runs
from boardshop.core.index import fold, index_plan
from boardshop.core.plan import BoardPlan


@dataclass(frozen=True, slots=True)
class Cost:
    """In the shop's currency, of what has a price; ``unpriced`` are refs or names of what has none."""

    known: Decimal = Decimal(0)
    unpriced: tuple[str, ...] = ()

    @property
    def is_whole(self) -> bool:
        return not self.unpriced


def cost_of_cuts(plan: BoardPlan, refs: Iterable[str]) -> Cost:
    """Cable and plugs of these links, those of unknown length named by their own ref."""
    index, wanted = index_plan(plan), {fold(ref) for ref in refs}
    total, unpriced = Decimal(0), list[str]()
    for run in measure_runs(plan):
        link = run.link
        if fold(link.ref) not in wanted:
            continue
        cable = index.cables.get(fold(link.cable)) if link.cable else None
        if cable is None or run.cut_mm is None:
            unpriced.append(link.ref)
        elif cable.price is None:
            unpriced.append(cable.ref)
        else:
            total += Decimal(str(cable.price)) * run.cut_mm / 1000
        for ref in (link.plug_from, link.plug_to):
            plug = index.plugs.get(fold(ref)) if ref else None
            if plug is None or plug.price is None:
                unpriced.append(plug.ref if plug is not None else link.ref)
            else:
                total += Decimal(str(plug.price))
    return Cost(total, tuple(dict.fromkeys(unpriced)))
