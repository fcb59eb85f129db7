"""Drawing one page of a board, whole or as the part that an edit changes."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render
from django.urls import reverse

from boardshop.boards.access import may_change
from boardshop.boards.forms.edits import BASE, EditForm
from boardshop.boards.forms.steps import StepForm
from boardshop.boards.models import Board, Change
from boardshop.boards.services.history import next_steps
from boardshop.boards.sheet import BoardSheet
from boardshop.crew.answers import render_part

PART = "sheet"
"""The partial of every page's template that holds all that an edit may change."""


@dataclass(frozen=True)
class Again:
    """A form as it was sent, to send it once more on what stands there now: its address and its fields."""

    address: str
    posted: list[tuple[str, str]]
    form: EditForm

    @property
    def fields(self) -> list[tuple[str, str]]:
        """What the person changed as they typed it, what they left alone as it stands now.

        To be asked after the page has set the form against what stands there.
        """
        kept = [(name, value) for name, value in self.posted if name not in (*self.form.taken, BASE)]
        taken = [(name, value) for name, values in self.form.taken.items() for value in values]
        return [*kept, *taken, *([(BASE, self.form.base)] if self.form.base else [])]


@dataclass
class PageState:
    """What a page is drawn with besides the board: forms as they were typed, and what to say above it.

    `opened` names the row whose form stands open; `conflict` is the sentence about an edit that came late,
    `since` what was done after its page was loaded, and `again` the edit itself.
    """

    typed: Mapping[str, EditForm] = field(default_factory=dict)
    opened: str = ""
    conflict: str = ""
    since: list[Change] = field(default_factory=list)
    again: Again | None = None
    gone: list[tuple[str, str]] | None = None
    """Where what the form was about is not there any more: what was typed, by the names of its fields."""
    _shown: set[str] = field(default_factory=set)

    def take(self, key: str) -> EditForm | None:
        """The form of that name as it was typed, if it was; it counts as shown then."""
        typed = self.typed.get(key)
        if typed is not None:
            self._shown.add(key)
        return typed

    def form[F: EditForm](self, key: str, make: Callable[[], F]) -> EditForm:
        """The typed form, else a fresh one."""
        typed = self.typed_form(key, make)
        return make() if typed is None else typed

    def typed_form(self, key: str, make: Callable[[], EditForm]) -> EditForm | None:
        """The form as it was typed, if it was; after a conflict it tells where a fresh one differs."""
        typed = self.take(key)
        if typed is not None and self.conflict:
            typed.compare_with(make())
        return typed

    @property
    def errors(self) -> list[str]:
        """What is wrong with no field that stands on the page."""
        found: list[str] = []
        for key, form in self.typed.items():
            shown = {bound.name for bound in form.visible_fields()} if key in self._shown else set()
            for name, errors in form.errors.items():
                found += [str(error) for error in errors] if name not in shown else []
        return found

    @property
    def refused_step(self) -> StepForm | None:
        """Undo or redo of a change that something stands in the way of, with another one to go on with."""
        steps = (form for form in self.typed.values() if isinstance(form, StepForm))
        return next((form for form in steps if form.further), None)

    @property
    def lost(self) -> list[tuple[str, str]]:
        """What was typed into forms that no longer stand on the page: label and value."""
        if self.gone is not None:
            return self.gone
        return [
            (str(bound.label), str(bound.value()))
            for key, form in self.typed.items()
            if key not in self._shown
            for bound in form.visible_fields()
            if bound.value() not in (None, "", False)
        ]


type Build = Callable[[BoardSheet, PageState], dict[str, Any]]


@dataclass(frozen=True)
class Page:
    """One of a board's pages: its address and template have its name, its tab its own or that of `under`."""

    name: str
    build: Build
    under: str = ""

    @property
    def template(self) -> str:
        return f"boards/{self.name.replace('-', '_')}.html"

    def address(self, board: Board) -> str:
        return reverse(self.name, args=[board.code])

    def draw(
        self, request: HttpRequest, board: Board, state: PageState | None = None, status: int = 200
    ) -> HttpResponse:
        """The page, or its changing part for htmx."""
        state = state or PageState(opened=request.GET.get("open", "")[:400])
        sheet = BoardSheet(board)
        may_edit = may_change(board)
        context = {
            "board": board,
            "shop": board.shop,
            "sheet": sheet,
            "tab": self.under or self.name,
            "page": self.name,
            "may_edit": may_edit,
            "steps": next_steps(board) if may_edit else None,
            "state": state,
            **self.build(sheet, state),
        }
        return render_part(request, self.template, PART, context, status)


@dataclass(frozen=True)
class FormPage:
    """A page of forms about one thing of a board, each by its key; a kept edit leads `back`."""

    template: str
    back: str
    tab: str
    context: dict[str, Any]
    forms: Mapping[str, Callable[[], EditForm]]
    prepare: Callable[[EditForm], None] | None = None
    """Gives each form what it offers to choose from."""
    late: Callable[[PageState], dict[str, Any]] | None = None
    """What of the context is only read when the page is drawn."""

    def address(self, board: Board) -> str:
        return self.back

    def draw(
        self, request: HttpRequest, board: Board, state: PageState | None = None, status: int = 200
    ) -> HttpResponse:
        state = state or PageState()
        forms = {key: state.form(key, fresh) for key, fresh in self.forms.items()}
        for form in forms.values():
            if self.prepare is not None:
                self.prepare(form)
        context = {"board": board, "shop": board.shop, "tab": self.tab, "state": state, **self.context}
        context |= {f"{key.replace('-', '_')}_form": form for key, form in forms.items()}
        context |= self.late(state) if self.late is not None else {}
        return render(request, self.template, context, status=status)
