"""The page of one pedal of a board: everything but its place and wiring."""

from __future__ import annotations

from typing import Any

from django.urls import reverse
from django.utils.functional import SimpleLazyObject

from boardshop.boards.catalogue import catalogue_of, choice_of
from boardshop.boards.forms.pedals import PedalForm
from boardshop.boards.held_files import files_of_part
from boardshop.boards.models import Board, Placement
from boardshop.boards.pages.page import FormPage
from boardshop.files.section import FileSection
from boardshop.gear.models import UnitDraw

KEY = "pedal"


def pedal_page(board: Board, pedal: Placement) -> FormPage:
    return FormPage(
        template="boards/change_pedal.html",
        back=reverse("order", args=[board.code]),
        tab="order",
        context={"pedal": pedal, "files": SimpleLazyObject(lambda: _files(board, pedal))},
        forms={KEY: lambda: fresh_pedal(board, pedal)},
    )


def _files(board: Board, pedal: Placement) -> FileSection:
    page = reverse("change-pedal", args=[board.code, pedal.ref])
    return files_of_part(board, pedal.ref, back=page, editing=True)


def fresh_pedal(board: Board, pedal: Placement, data: Any = None) -> PedalForm:
    """The pedal's form as things stand, or as it was typed."""
    catalogue = catalogue_of(board)
    others = Placement.objects.filter(board=board).exclude(pk=pedal.pk).select_related("model")
    jacks = list(pedal.model.power_jacks.values_list("name", flat=True))
    return PedalForm(
        data,
        key=KEY,
        pedals=catalogue.pedals,
        gear=catalogue.pedal_choices(),
        others={other.ref: other for other in others},
        jacks=jacks,
        initial=_values(pedal, jacks),
    )


def _values(pedal: Placement, jacks: list[str]) -> dict[str, Any]:
    draws = UnitDraw.objects.filter(unit=pedal.unit_id) if pedal.unit_id else ()
    measured = {draw.jack.casefold(): draw.measured for draw in draws}
    return {
        "gear": choice_of(pedal.model_id, pedal.unit_id),
        "ref": pedal.ref,
        "role": pedal.role,
        "on": pedal.on,
        "use": pedal.use,
        "turns": pedal.turns or [],
        "together": [other.ref for other in pedal.together.all()],
        "settings": pedal.settings,
        **{f"measured{n}": measured.get(jack.casefold()) for n, jack in enumerate(jacks)},
    }
