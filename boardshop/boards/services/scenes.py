"""Scenes: which pedals are engaged in one part of the set, in the order in which they are played."""

from __future__ import annotations

from collections.abc import Iterable

from boardshop.boards.errors import SceneNameMissing, TooManyScenes
from boardshop.boards.history.recording import recorded
from boardshop.boards.models import Board, Placement, Scene
from boardshop.boards.services.editing import board_edit, check_board, set_columns

MOST_SCENES = 64


@board_edit
def add_scene(board: Board, name: str, pedals: Iterable[Placement]) -> Scene:
    """Behind the scenes that are there.  Raises SceneNameMissing, SceneNameTaken or TooManyScenes."""
    name, pedals = _checked(name), list(pedals)
    check_board(board, *pedals)
    positions = list(board.scenes.values_list("position", flat=True))
    if len(positions) >= MOST_SCENES:
        raise TooManyScenes(board=board.name, most=MOST_SCENES)
    scene = Scene.objects.create(board=board, position=max(positions, default=-1) + 1, name=name)
    scene.pedals.set(pedals)
    return scene


@board_edit
def change_scene(board: Board, scene: Scene, name: str, pedals: Iterable[Placement]) -> None:
    """Another name, or other pedals engaged; its place among the scenes stays."""
    name, pedals = _checked(name), list(pedals)
    check_board(board, scene, *pedals)
    if name != scene.name:
        set_columns(scene, {"name": name})
    scene.pedals.set(pedals)


@board_edit
def remove_scene(board: Board, scene: Scene) -> None:
    """Take the scene away; its pedals stay as they are."""
    check_board(board, scene)
    scene.delete()


def move_scene(board: Board, seen: int, scene: Scene, step: int) -> None:
    """One place earlier (-1) or later (1); the first moves no earlier and the last no later.

    The comparison of two boards does not count the scenes' order, so the sentence is made here.
    """
    check_board(board, scene)
    with recorded(board, seen) as recording:
        scenes = list(board.scenes.all())
        at = scenes.index(scene)
        to = at + step
        if 0 <= to < len(scenes):
            side = "before" if step < 0 else "behind"
            recording.said.append(f"Scene {scene.name} was moved {side} {scenes[to].name}.")
            scenes[at], scenes[to] = scenes[to], scenes[at]
            _number(scenes)


def _number(scenes: list[Scene]) -> None:
    """Anew, since scenes that were taken away leave gaps, and some that were put back share a place."""
    moved = [scene for position, scene in enumerate(scenes) if scene.position != position]
    for position, scene in enumerate(scenes):
        scene.position = position
    Scene.objects.bulk_update(moved, ["position"])


def _checked(name: str) -> str:
    name = name.strip()
    if not name:
        raise SceneNameMissing
    return name
