"""What stands on the sheet of the first power-on: the page's list, with lines for a pen."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from django.utils import timezone

from boardshop.boards.pages.first_power import list_turned, say_draws, say_expected, say_stands, say_venue
from boardshop.boards.pages.metered import list_barred
from boardshop.boards.pages.wording import say_mains
from boardshop.boards.sheet import BoardSheet
from boardshop.core.index import fold
from boardshop.core.plan import Supply
from boardshop.core.power.first_power import PowerStep, list_power_steps


@dataclass(frozen=True)
class PaperStep:
    """One plug on paper, in the words of the page."""

    step: PowerStep
    number: int | None
    expected: str
    stands: str
    draws: str
    metered: str
    """What the last reading at this plug says where it bars the pedal; blank where none does."""

    @property
    def outlets(self) -> str:
        return " + ".join(self.step.outlets)

    @property
    def barred(self) -> str:
        """The rules that forbid it as it is planned: `P05, P06`; blank where none does."""
        return ", ".join(dict.fromkeys(one.rule for one in self.step.barred_by))


@dataclass(frozen=True)
class PaperPart:
    supply: Supply
    mains: str
    steps: list[PaperStep]


def describe_first_power(sheet: BoardSheet, person: Any) -> dict[str, Any]:
    """The context of the sheet's template."""
    steps = list_power_steps(sheet.plan, sheet.findings)
    metered = list_barred(sheet)
    on_paper = [_describe(sheet, step, metered) for step in steps]
    return {
        "board": sheet.board,
        "shop": sheet.board.shop,
        "sheet": sheet,
        "printed_on": timezone.localdate(),
        "printed_by": person,
        "parts": [
            PaperPart(supply, say_mains(supply.mains), [s for s in on_paper if s.step.supply == supply.ref])
            for supply in sheet.plan.supplies
        ],
        "venue": say_venue(sheet.plan.venue),
        "turned": list_turned(steps),
        "unfed": sheet.power.unfed,
        "hazards": [one for one in sheet.findings if not one.can_be_kept],
    }


def _describe(sheet: BoardSheet, step: PowerStep, metered: Mapping[str, str]) -> PaperStep:
    return PaperStep(
        step=step,
        number=sheet.numbers.get(step.fed.pedal.ref),
        expected=say_expected(step),
        stands=say_stands(step),
        draws=say_draws(step),
        metered=metered.get(fold(step.end), ""),
    )
