"""The scenes of a board: looked at, added, changed, moved, taken away."""

from __future__ import annotations

from django.db.models import QuerySet
from django.http import HttpRequest, HttpResponse
from django.views.decorators.http import require_POST, require_safe

from boardshop.boards.access import get_board_for
from boardshop.boards.edits import make_edit
from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.scenes import NORMAL, AddSceneForm, MoveSceneForm, SceneForm, copy_of
from boardshop.boards.models import Board, Placement
from boardshop.boards.pages.scenes import ADD_KEY, SCENES, list_scenes, scene_key, scene_pedals
from boardshop.boards.plan.read import load_plan
from boardshop.boards.services import scenes as services
from boardshop.boards.views.rows import get_scene


@require_safe
def scenes(request: HttpRequest, code: str) -> HttpResponse:
    return SCENES.draw(request, get_board_for(request.user, code))


@require_POST
def add_scene(request: HttpRequest, code: str) -> HttpResponse:
    """What is ticked in it at first is chosen with its name."""
    board = get_board_for(request.user, code, editing=True)
    keys = list_scenes(board)
    form = AddSceneForm(request.POST, key=ADD_KEY, scenes=keys)

    def service(form: AddSceneForm) -> None:
        begun = _begun_with(board, form.cleaned_data["begin"], keys)
        services.add_scene(board, form.seen, form.cleaned_data["name"], begun)

    return make_edit(request, board, SCENES, form, service, anchor=ADD_KEY)


@require_POST
def change_scene(request: HttpRequest, code: str, pk: int) -> HttpResponse:
    """Its name and its pedals at once."""
    board = get_board_for(request.user, code, editing=True)
    scene = get_scene(board, pk)
    form = SceneForm(request.POST, key=scene_key(pk), pedals=scene_pedals(load_plan(board)))

    def service(form: SceneForm) -> None:
        pedals = Placement.objects.filter(board=board, ref__in=form.engaged())
        services.change_scene(board, form.seen, scene, form.cleaned_data["name"], pedals)

    return make_edit(request, board, SCENES, form, service, anchor=form.key)


@require_POST
def move_scene(request: HttpRequest, code: str, pk: int) -> HttpResponse:
    """One place earlier or later."""
    board = get_board_for(request.user, code, editing=True)
    scene = get_scene(board, pk)
    form = MoveSceneForm(request.POST, key=f"move-{scene_key(pk)}")

    def service(form: MoveSceneForm) -> None:
        services.move_scene(board, form.seen, scene, form.step)

    return make_edit(request, board, SCENES, form, service, anchor=scene_key(pk))


@require_POST
def remove_scene(request: HttpRequest, code: str, pk: int) -> HttpResponse:
    board = get_board_for(request.user, code, editing=True)
    scene = get_scene(board, pk)
    form = EditForm(request.POST, key=f"remove-{scene_key(pk)}")

    def service(form: EditForm) -> None:
        services.remove_scene(board, form.seen, scene)

    return make_edit(request, board, SCENES, form, service)


def _begun_with(board: Board, begin: str, keys: list[tuple[int, str]]) -> QuerySet[Placement]:
    """The pedals that a new scene has at first."""
    pedals = Placement.objects.filter(board=board)
    if begin == NORMAL:
        return pedals.filter(on=True)
    copied = next((pk for pk, _name in keys if copy_of(pk) == begin), None)
    return pedals.filter(scenes=copied) if copied else pedals.none()
