"""The page that searches the shop's catalogue for the supply, or the two, that suit a board best."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from django.utils.translation import gettext as _

from boardshop.boards.catalogue import choice_of
from boardshop.boards.forms.which import MainsForm, write_mains
from boardshop.boards.pages.findings import list_findings
from boardshop.boards.pages.page import Page, PageState
from boardshop.boards.pages.wording import say_ma, say_need
from boardshop.boards.sheet import BoardSheet
from boardshop.core.feeds.cures import list_missing
from boardshop.core.feeds.supplies import SupplyChoice, choose_beside, choose_instead
from boardshop.core.index import fold, index_plan
from boardshop.core.naming import called
from boardshop.core.plan import BoardPlan, Supply, Venue
from boardshop.core.power.connections import find_power_jack
from boardshop.gear.models import SupplyModel
from boardshop.gear.sheets import supply_sheets


@dataclass(frozen=True)
class Candidate:
    """One choice as its row says it; `gear` are the values that add its supplies to the board."""

    choice: SupplyChoice
    names: tuple[str, ...]
    gear: tuple[str, ...]
    unfed: tuple[str, ...]
    """Names of those that it leaves out."""

    @property
    def name(self) -> str:
        return " + ".join(self.names)

    @property
    def parts(self) -> list[tuple[str, str]]:
        """Each supply's value and name."""
        return list(zip(self.gear, self.names, strict=True))


def which_page(form: MainsForm | None = None) -> Page:
    """The page for the mains that a form asks for; without one for those of the board's own venue."""
    return Page("which-supply", partial(_build, form), under="power")


def _build(form: MainsForm | None, sheet: BoardSheet, state: PageState) -> dict[str, Any]:
    plan = sheet.plan
    form = form or MainsForm(initial={"mains": write_mains(list_own_mains(plan))})
    is_asked = form.is_bound and form.is_valid()
    mains = form.cleaned_data["mains"] if is_asked else list_own_mains(plan)
    rows = supply_sheets(sheet.board.shop.supply_models.all())
    catalogue = [found for _model, found in rows]
    models = [model for model, _found in rows]
    jacks = [jack for pedal in plan.pedals for jack in pedal.power]
    instead = choose_instead(plan, catalogue, mains) if jacks else ()
    beside = choose_beside(plan, catalogue, mains) if jacks and plan.supplies else ()
    return {
        "never_fed": list_never_fed(plan, [*instead, *beside]),
        "findings": list_findings(plan, sheet.findings_of("power", "grounds"), state),
        "form": form,
        "mains": write_mains(mains),
        "jacks": len(jacks),
        "catalogue": len(catalogue),
        "headroom": plan.rules.headroom_percent,
        "has_frame_height": plan.frame.under is not None,
        "instead": [_candidate(plan, models, catalogue, choice) for choice in instead],
        "beside": [_candidate(plan, models, catalogue, choice) for choice in beside],
    }


def list_own_mains(plan: BoardPlan) -> list[Venue]:
    """The board's venue, where its volts and hertz are recorded."""
    venue = plan.venue
    return [venue] if venue is not None and venue.mv is not None and venue.hz is not None else []


def list_never_fed(plan: BoardPlan, choices: Sequence[SupplyChoice]) -> list[tuple[str, str]]:
    """Who is left out by all of them, by name, with what is not recorded or what it needs."""
    if not choices:
        return []
    index = index_plan(plan)
    left = set.intersection(*({fold(end) for end in choice.unfed} for choice in choices))
    jacks = [find_power_jack(index, end) for end in choices[0].unfed if fold(end) in left]
    told = []
    for fed in jacks:
        missing = list_missing(fed)
        says = _("not recorded: %s") % ", ".join(missing) if missing else say_need(fed.jack)
        draw = "" if fed.load_ma is None or missing else f", {say_ma(fed.load_ma)}"
        told.append((called(index, fed.ref), f"{says}{draw}"))
    return told


def _candidate(
    plan: BoardPlan, models: list[SupplyModel], catalogue: list[Supply], choice: SupplyChoice
) -> Candidate:
    index = index_plan(plan)
    return Candidate(
        choice=choice,
        names=tuple(catalogue[number].model or _("supply") for number in choice.models),
        gear=tuple(choice_of(models[number].pk, None) for number in choice.models),
        unfed=tuple(called(index, end) for end in choice.unfed),
    )


WHICH = which_page()
