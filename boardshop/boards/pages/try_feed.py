"""What if a power jack were fed from there: loads before and after, what it settles and what it brings."""

from __future__ import annotations

from collections import Counter
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from django.http import Http404, HttpRequest, HttpResponse
from django.utils.functional import SimpleLazyObject
from django.utils.translation import gettext as _

from boardshop.boards.access import may_change
from boardshop.boards.errors import NoSuchChoice, OutletUnknown, SettingNotOffered, TwoSettings
from boardshop.boards.forms.feeds import MoveFeedForm, write_choice
from boardshop.boards.models import Board
from boardshop.boards.pages.load_words import LoadWords, say_outlet, say_sum
from boardshop.boards.pages.wording import say_draw, say_need, say_volts
from boardshop.boards.plan.read import load_plan
from boardshop.core.findings import Finding
from boardshop.core.index import fold, index_plan, split_end
from boardshop.core.moves import FeedMove, compare_feeds
from boardshop.core.numbering import number_pedals
from boardshop.core.plan import BoardPlan, Pedal, PowerJack
from boardshop.core.power import Choice, Goal, list_choices, list_goals, move_feed
from boardshop.crew.answers import render_part
from boardshop.crew.errors import Refusal
from boardshop.gear.templatetags.lengths import lengths_in


@dataclass(frozen=True)
class LoadChange:
    """An outlet, a group or a supply before and after."""

    ref: str
    before: LoadWords
    after: LoadWords


@dataclass(frozen=True)
class Outcome:
    """A move tried on the plan, as the page and the fragment read it."""

    goal: Goal | None
    value: str
    """What the form that makes the move carries."""
    move: FeedMove
    outlets: tuple[LoadChange, ...]
    """Those that are left, then those that are joined."""
    sums: tuple[LoadChange, ...]
    """Groups and supplies that have a limit and carry another load then."""

    @property
    def settles(self) -> list[str]:
        return _count_rules(self.move.settles)

    @property
    def brings(self) -> list[str]:
        return _count_rules(self.move.brings)

    @property
    def leaves(self) -> str:
        return ", ".join(change.before.ref for change in self.move.left)

    @property
    def joins(self) -> str:
        return ", ".join(change.after.ref for change in self.move.joined)

    @property
    def before(self) -> LoadWords | None:
        """Of the outlet that feeds the jack now; None where nothing does, or the same one would."""
        return self.outlets[0].before if self.move.left else None

    @property
    def after(self) -> LoadWords | None:
        """Of the outlet that would feed it."""
        return self.outlets[len(self.move.left)].after if self.move.joined else None

    @property
    def is_same(self) -> bool:
        """Whether nothing would change."""
        changed = (change.before != change.after for change in (*self.move.left, *self.move.joined))
        return not any(changed)


@dataclass(frozen=True)
class Offered:
    """One outlet at one setting in the list of what can be tried."""

    choice: Choice
    value: str
    volts: str


def _count_rules(findings: Sequence[Finding]) -> list[str]:
    """`P08 (fault)`, `P09 (fault, 2 times)`: each rule once, worst first."""
    counts = Counter((found.rule, found.severity) for found in findings)
    return [
        f"{rule} ({severity})"
        if times == 1
        else _("%(rule)s (%(severity)s, %(times)d times)")
        % {"rule": rule, "severity": severity, "times": times}
        for (rule, severity), times in counts.items()
    ]


def draw_try(request: HttpRequest, board: Board, end: str, value: str) -> HttpResponse:
    """The page of one jack's choices with the outcome of the asked one, or that outcome alone for htmx.

    404 for a jack that is not on the board, 422 for an outlet or a setting that cannot be.
    """
    plan = load_plan(board)
    pedal, jack = _find_jack(plan, end)
    end = f"{pedal.ref}.{jack.name}"
    refusal, outcome = "", None
    try:
        outcome = try_value(plan, end, value) if value else None
    except Refusal as refused:
        refusal = lengths_in(str(refused), board.shop)
    context = {
        "board": board,
        "shop": board.shop,
        "tab": "power",
        "may_edit": may_change(board),
        **_name_jack(plan, pedal, jack),
        "outcome": outcome,
        "refusal": refusal,
        "offers": SimpleLazyObject(lambda: list_offered(plan, end)),
    }
    return render_part(request, "boards/try_feed.html", "outcome", context, 422 if refusal else 200)


def _find_jack(plan: BoardPlan, end: str) -> tuple[Pedal, PowerJack]:
    found = index_plan(plan).power_jacks.get(fold(end))
    if found is None:
        raise Http404
    return found


def _name_jack(plan: BoardPlan, pedal: Pedal, jack: PowerJack) -> dict[str, Any]:
    return {
        "end": f"{pedal.ref}.{jack.name}",
        "anchor": f"{pedal.ref}-{jack.name}",
        "number": number_pedals(plan).get(pedal.ref, pedal.ref),
        "name": pedal.name or pedal.kind,
        "need": say_need(jack),
        "draw": say_draw(jack),
    }


def try_value(plan: BoardPlan, end: str, value: str) -> Outcome:
    """`S1.3@9000` or `unfed` tried on the plan; raises Refusal for what the move itself would refuse."""
    goal = _read_goal(plan, end, value)
    move = compare_feeds(plan, move_feed(plan, end, goal))
    planned = plan.rules.planned_percent
    outlets = [
        LoadChange(change.after.ref, say_outlet(change.before, planned), say_outlet(change.after, planned))
        for change in (*move.left, *move.joined)
    ]
    sums = [
        LoadChange(change.after.ref, say_sum(change.before, planned), say_sum(change.after, planned))
        for change in (*move.groups, *move.supplies)
        if change.after.spare is not None
    ]
    sums = [change for change in sums if change.before != change.after]
    return Outcome(goal, value, move, tuple(outlets), tuple(sums))


def _read_goal(plan: BoardPlan, end: str, value: str) -> Goal | None:
    """The same refusals as the service's, from the plan alone."""
    form = MoveFeedForm({"outlet": value, "edit": 0}, key="try")
    if not form.is_valid():
        raise NoSuchChoice
    chosen = form.cleaned_data["outlet"]
    if chosen is None:
        return None
    found = index_plan(plan).outlets.get(fold(chosen.outlet))
    if found is None:
        ref, name = split_end(chosen.outlet)
        raise OutletUnknown(outlet=name, supply=ref)
    supply, outlet = found
    ref, setting = f"{supply.ref}.{outlet.name}", chosen.setting_mv
    if setting is None:
        return Goal(ref, None)
    if outlet.settings and not any(s.min_mv <= setting <= s.max_mv for s in outlet.settings):
        raise SettingNotOffered(outlet=ref, setting=say_volts(setting))
    if setting in {goal.setting_mv for goal in list_goals(plan, end) if fold(goal.outlet) == fold(ref)}:
        return Goal(ref, setting)
    raise TwoSettings(outlet=ref)


def list_offered(plan: BoardPlan, end: str) -> Sequence[Offered]:
    """Every outlet at every setting with what the core says of it."""
    feed = index_plan(plan).feed_of_jack.get(fold(end))
    adapters = move_feed(plan, end, Goal("", None)).adapters if feed else ()
    return [
        Offered(choice, write_choice(choice.outlet, choice.setting_mv), say_volts(choice.setting_mv))
        for choice in list_choices(plan, end, adapters)
    ]
