"""A load in figures and in words, so that no bar and no colour says anything alone."""

from __future__ import annotations

from dataclasses import dataclass, replace

from django.utils.translation import gettext as _

from boardshop.core.power import OutletRow, SumRow


@dataclass(frozen=True)
class LoadWords:
    """The numbers, and what `says` they mean by the shop's headroom; `percent` is for the bar."""

    amount: str
    says: str
    percent: float | None
    percent_words: str
    standing: str
    is_used: bool

    @property
    def figures(self) -> str:
        """`186 of 100 mA, 186.0 %`."""
        return ", ".join(part for part in (self.amount, self.percent_words) if part)


def say_outlet(row: OutletRow, planned: int) -> LoadWords:
    words = _say(
        (row.load_ma, row.limit_ma, "mA"),
        row.load_percent,
        (row.spare_ma, row.excess_ma),
        row.standing,
        planned,
        is_partial=row.is_partial,
    )
    if row.standing == "unlimited" and row.setting_mv is None:
        return replace(words, says=_("no voltage recorded, so the limit is unknown"))
    return words


def say_sum(row: SumRow, planned: int) -> LoadWords:
    """A group in mA, a supply in mW."""
    in_mw = row.limit_mw is not None
    amounts = (row.load_mw, row.limit_mw, "mW") if in_mw else (row.load_ma, row.limit_ma, "mA")
    return _say(
        amounts,
        row.load_percent,
        (row.spare, row.excess),
        row.standing,
        planned,
        is_partial=row.is_percent_partial,
    )


def _say(
    amounts: tuple[int, int | None, str],
    percent: float | None,
    left: tuple[int | None, int],
    standing: str,
    planned: int,
    *,
    is_partial: bool,
) -> LoadWords:
    load, limit, unit = amounts
    least = _("at least %s") if is_partial else "%s"
    percent_words = "" if percent is None else least % f"{percent} %"
    if standing == "free":
        return LoadWords("", _("free"), None, "", standing, is_used=False)
    amount = least % (f"{load} {unit}" if limit is None else _of(load, limit, unit))
    says = _say_standing(standing, planned, left, unit, is_partial=is_partial)
    return LoadWords(amount, says, percent, percent_words, standing, is_used=True)


def _of(load: int, limit: int, unit: str) -> str:
    return _("%(load)d of %(limit)d %(unit)s") % {"load": load, "limit": limit, "unit": unit}


def _say_standing(
    standing: str, planned: int, left: tuple[int | None, int], unit: str, *, is_partial: bool
) -> str:
    spare, excess = left
    if standing == "unlimited":
        return _("limit not recorded")
    if standing == "over":
        return _("over its limit, %(excess)d %(unit)s too much") % {"excess": excess, "unit": unit}
    most = _("at most %(spare)d %(unit)s spare") if is_partial else _("%(spare)d %(unit)s spare")
    said = most % {"spare": spare, "unit": unit}
    if standing == "above":
        return _("%(spare)s, above the planned %(planned)d %%") % {"spare": said, "planned": planned}
    if standing == "unknown":
        if unit == "mW":
            return _("%(spare)s, a draw or a voltage is not recorded") % {"spare": said}
        return _("%(spare)s, a draw is not recorded") % {"spare": said}
    return _("%(spare)s, within the planned %(planned)d %%") % {"spare": said, "planned": planned}
