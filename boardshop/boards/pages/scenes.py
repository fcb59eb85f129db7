"""The page of a board's scenes: which pedal is engaged in which part of the set."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any

from django.utils.translation import gettext as _

from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.scenes import AddSceneForm, SceneForm, ScenePedal
from boardshop.boards.models import Board
from boardshop.boards.pages.between import say_heard
from boardshop.boards.pages.findings import list_findings
from boardshop.boards.pages.page import Page, PageState
from boardshop.boards.sheet import BoardSheet
from boardshop.core.findings import Finding
from boardshop.core.index import fold
from boardshop.core.numbering import number_pedals
from boardshop.core.order.engaged import is_fixed
from boardshop.core.order.scenes import judge_order, name_of
from boardshop.core.plan import BoardPlan, Pedal, Scene

ADD_KEY = "add-scene"
WIRING = "O"
"""First letter of the rules about the wiring, which is the same in every scene."""


@dataclass(frozen=True)
class SceneCard:
    """A scene with its form; `engaged` are the folded refs of its pedals."""

    pk: int
    name: str
    form: EditForm
    engaged: frozenset[str]
    heard: list[Finding]
    """What is found about the pedals that act in it."""
    is_first: bool
    is_last: bool


@dataclass(frozen=True)
class Cell:
    """One pedal in one scene, said by a sign and by words."""

    sign: str
    words: str
    is_engaged: bool


@dataclass(frozen=True)
class PedalLine:
    """A pedal and its cell for each scene."""

    pedal: ScenePedal
    cells: list[Cell]


def scene_key(pk: int) -> str:
    return f"scene-{pk}"


def scene_pedals(plan: BoardPlan) -> list[ScenePedal]:
    """As the signal meets them, those that it does not reach last."""
    numbers = number_pedals(plan)
    pedals = sorted(plan.pedals, key=lambda pedal: numbers.get(pedal.ref, len(numbers) + 1))
    return [
        ScenePedal(pedal.ref, pedal.name, numbers.get(pedal.ref), _why_unswitched(pedal)) for pedal in pedals
    ]


def list_scenes(board: Board) -> list[tuple[int, str]]:
    """Key and name of each, as they are played."""
    return list(board.scenes.values_list("pk", "name"))


def build_scenes(sheet: BoardSheet, state: PageState) -> dict[str, Any]:
    pedals, keys = scene_pedals(sheet.plan), list_scenes(sheet.board)
    found = sheet.findings_of("order")
    cards = _cards(sheet.plan, pedals, keys, state, found)
    return {
        "tab": "order",
        "scenes": cards,
        "lines": [PedalLine(pedal, [_cell(pedal, card) for card in cards]) for pedal in pedals],
        "add_scene": state.form(ADD_KEY, lambda: AddSceneForm(key=ADD_KEY, scenes=keys)),
        "findings": list_findings(sheet.plan, found, state, say_heard(sheet.plan)),
    }


def _cards(
    plan: BoardPlan,
    pedals: list[ScenePedal],
    keys: list[tuple[int, str]],
    state: PageState,
    findings: Sequence[Finding],
) -> list[SceneCard]:
    heard = {judged.name: set(judged.heard) for judged in judge_order(plan).scenes}
    # The plan and the keys are read one after the other: what only one of them has was just changed.
    by_name = {name: pk for pk, name in keys}
    found = [(by_name[scene.name], scene) for scene in plan.scenes if scene.name in by_name]
    last = len(found) - 1
    return [
        SceneCard(
            pk=pk,
            name=scene.name,
            form=state.form(scene_key(pk), partial(_fresh_form, pk, scene, pedals)),
            engaged=frozenset(map(fold, scene.on)),
            heard=[one for one in findings if name_of(one) in heard[scene.name] and one.rule[0] != WIRING],
            is_first=at == 0,
            is_last=at == last,
        )
        for at, (pk, scene) in enumerate(found)
    ]


def _fresh_form(pk: int, scene: Scene, pedals: list[ScenePedal]) -> SceneForm:
    engaged = set(map(fold, scene.on))
    ticked = {pedal.field: fold(pedal.ref) in engaged for pedal in pedals}
    return SceneForm(key=scene_key(pk), pedals=pedals, initial={"name": scene.name, **ticked})


def _cell(pedal: ScenePedal, card: SceneCard) -> Cell:
    if fold(pedal.ref) in card.engaged:
        return Cell("●", _("engaged"), is_engaged=True)
    if pedal.unswitched:
        return Cell("–", pedal.unswitched, is_engaged=False)
    return Cell("○", _("bypassed"), is_engaged=False)


def _why_unswitched(pedal: Pedal) -> str:
    """Blank where a foot engages it; core counts as acting what `is_fixed` says."""
    if pedal.bypass == "always-on":
        return _("always acts")
    if is_fixed(pedal):
        return _("in every scene")
    return "" if pedal.switches else _("no foot switch")


SCENES = Page("scenes", build_scenes)
