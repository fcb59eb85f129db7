"""What is planned together: boards, pieces beside them, and what is to be cut again."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any, ClassVar

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from boardshop.bench.cut_work import MOST_BOARDS, MOST_PIECES, Asked, FurtherPiece
from boardshop.boards.models import Board
from boardshop.crew.models import Shop
from boardshop.gear import amounts
from boardshop.gear.forms.asking_back import LONGEST_LEAD_MM, AsksBack, confirmation
from boardshop.gear.forms.fields import amount, size, text
from boardshop.gear.forms.rows import RowForm, RowSet, row_set

PREFIX = "more"
"""Of the rows of further pieces."""
BLANK_ROWS = 2


def read_count(typed: str) -> int:
    """At least one; raises AmountError."""
    count = amounts.parse_whole(typed)
    if not 0 < count <= MOST_PIECES:
        words = gettext("One to %(most)d pieces; take the row off when none is wanted.")
        raise amounts.AmountError(words % {"most": MOST_PIECES})
    return count


class FurtherForm(AsksBack, RowForm):
    """One row of pieces that belong to no board; `cables` are the names of the shop's."""

    longest: ClassVar = {"length": LONGEST_LEAD_MM}

    cable = forms.ChoiceField(label=_("Cable"), required=True)
    length = size(_("Cut"), required=True)
    count = amount(_("Count"), read_count, blank=1)
    name = text(_("Name"), 40)
    lengths_are_right = confirmation()

    def __init__(self, data: Any = None, *, cables: Sequence[str], **options: Any) -> None:
        super().__init__(data, **options)
        choices = self.fields["cable"]
        assert isinstance(choices, forms.ChoiceField)
        choices.choices = [("", gettext("choose …")), *((name, name) for name in cables)]

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or self.cleaned_data
        self.ask_about_lengths(cleaned)
        return cleaned

    def piece(self) -> FurtherPiece:
        typed = self.cleaned_data
        return FurtherPiece(typed["cable"], typed["length"], typed["count"], typed["name"])


class CutForm(forms.Form):
    """Which boards; `codes` are those that the person may choose from."""

    board = forms.MultipleChoiceField(label=_("Boards"), required=False)
    seen = forms.CharField(required=False, max_length=200_000, widget=forms.HiddenInput)

    def __init__(
        self, data: QueryDict, *, shop: Shop, boards: Sequence[Board], cables: Sequence[str]
    ) -> None:
        super().__init__(data)
        self.has_cable_types = bool(cables)
        self.shop, self.offered = shop, {board.code: board for board in boards}
        field = self.fields["board"]
        assert isinstance(field, forms.MultipleChoiceField)
        field.choices = [(board.code, board.name) for board in boards]
        self.rows = self._bind_rows(data, cables)

    def _bind_rows(self, data: QueryDict, cables: Sequence[str]) -> RowSet:
        typed = data if f"{PREFIX}-TOTAL_FORMS" in data else None
        if typed is not None and "more-row" in data:
            typed = typed.copy()
            total = str(typed[f"{PREFIX}-TOTAL_FORMS"])
            typed[f"{PREFIX}-TOTAL_FORMS"] = str(
                int(total) + 1 if total.isdecimal() and len(total) < 4 else 1
            )
        return row_set(FurtherForm, PREFIX, shop=self.shop, data=typed, blank=BLANK_ROWS, cables=cables)

    def clean_board(self) -> list[str]:
        codes: list[str] = list(dict.fromkeys(self.cleaned_data["board"]))
        if len(codes) > MOST_BOARDS:
            words = gettext("At most %(most)d boards are planned together; take some out.")
            raise forms.ValidationError(words % {"most": MOST_BOARDS})
        return codes

    def is_valid(self) -> bool:
        rows_are_valid = not self.rows.is_bound or self.rows.is_valid()
        return super().is_valid() and rows_are_valid

    @property
    def again(self) -> frozenset[str]:
        data = self.data
        assert isinstance(data, QueryDict)
        return frozenset(data.getlist("again"))

    def asked(self) -> Asked:
        """Of a valid form."""
        further = [row.piece() for row in self.rows.kept()] if self.rows.is_bound else []
        boards = [self.offered[code] for code in self.cleaned_data["board"]]
        return Asked(boards, further, self.again)

    @property
    def chosen(self) -> list[str]:
        return self.cleaned_data.get("board", []) if hasattr(self, "cleaned_data") else []
