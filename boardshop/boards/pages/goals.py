"""Outlets as the choices of a form, in words: where the plug of a power jack can go."""

from __future__ import annotations

from collections.abc import Sequence

from django.utils.translation import gettext as _

from boardshop.boards.forms.edits import Choices
from boardshop.boards.forms.feeds import UNFED, MoveFeedForm, write_choice
from boardshop.boards.pages.wording import say_ma, say_volts
from boardshop.boards.sheet import BoardSheet
from boardshop.core.index import fold, index_plan
from boardshop.core.plan import Feed
from boardshop.core.power import Goal, list_goals
from boardshop.core.power.connections import find_setting


class GoalWords:
    """The choices of every jack of a board; the words for an outlet at a setting are made once."""

    def __init__(self, sheet: BoardSheet) -> None:
        self.plan = sheet.plan
        self.outlets = {fold(row.ref): row for row in sheet.power.outlets}
        self._said: dict[tuple[Goal, tuple[str, ...]], str] = {}

    def make_form(self, key: str, end: str, feed: Feed | None) -> MoveFeedForm:
        """The form that moves a jack's plug, showing the outlet that it is in now."""
        return MoveFeedForm(key=key, initial={"outlet": self.value_now(feed)})

    def offer(self, form: MoveFeedForm, end: str, feed: Feed | None) -> None:
        """Every outlet and, for a jack that is fed, none; the words for a choice not made yet say what is."""
        goals = list_goals(self.plan, end)
        choices: Choices = [
            (write_choice(goal.outlet, goal.setting_mv), self.say(goal, end)) for goal in goals
        ]
        blank = _("not fed") if feed is None else say_fed_by(feed)
        form.offer(choices if feed is None else [*choices, (UNFED, _("pull the plug"))], blank)

    def value_now(self, feed: Feed | None) -> str:
        """The choice that stands for the feed; blank where outlets are joined or no voltage is told."""
        if feed is None or len(feed.outlets) != 1:
            return ""
        row = self.outlets[fold(feed.outlets[0])]
        return "" if row.setting_mv is None else write_choice(row.ref, row.setting_mv)

    def say(self, goal: Goal, end: str) -> str:
        """`S1.4, 9 V, 300 mA · feeds P3.DC`, with what else hangs on it."""
        ref = fold(goal.outlet)
        others = tuple(jack for jack in self.outlets[ref].feeds if fold(jack) != fold(end))
        if (goal, others) not in self._said:
            offered = find_setting(index_plan(self.plan).outlets[ref][1], goal.setting_mv)
            limit_ma = offered.max_ma if offered else None
            self._said[goal, others] = say_choice(goal.outlet, goal.setting_mv, limit_ma, others)
        return self._said[goal, others]


def say_choice(ref: str, mv: int | None, limit_ma: int | None, feeds: Sequence[str]) -> str:
    """`S1.3, 9 V, 500 mA · feeds P4.DC`."""
    offered = f"{ref}, {say_volts(mv)}, {say_ma(limit_ma)}"
    return f"{offered} · {_('feeds %s') % ', '.join(feeds)}" if feeds else offered


def say_fed_by(feed: Feed) -> str:
    settings = feed.settings or (None,) * len(feed.outlets)
    parts = [
        outlet if mv is None else f"{outlet} {say_volts(mv)}"
        for outlet, mv in zip(feed.outlets, settings, strict=True)
    ]
    return " + ".join(parts)
