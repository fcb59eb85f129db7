"""The pages of one board, as they are looked at."""

from django.http import HttpRequest, HttpResponse, JsonResponse
from django.utils.text import slugify
from django.views.decorators.http import require_safe

from boardshop.boards.access import get_board_for
from boardshop.boards.pages.board import BOARD
from boardshop.boards.pages.cables import CABLES
from boardshop.boards.pages.drawn_views import SIDE_PAGE, UNDERSIDE_PAGE
from boardshop.boards.pages.first_power import FIRST_POWER
from boardshop.boards.pages.grounds import GROUNDS, TRIED, grounds_page
from boardshop.boards.pages.layout import LAYOUT
from boardshop.boards.pages.leads import LEADS
from boardshop.boards.pages.measured import draw_measuring
from boardshop.boards.pages.order import ORDER
from boardshop.boards.pages.page import Page, PageState
from boardshop.boards.pages.place_for_me import PLACE_FOR_ME, WHICH_FRAME
from boardshop.boards.pages.power import POWER
from boardshop.boards.pages.proposed import PROPOSED
from boardshop.boards.pages.scenes import SCENES
from boardshop.boards.pages.tone import TONE, tone_page
from boardshop.boards.pages.which import WHICH
from boardshop.boards.plan.read import load_plan
from boardshop.core.boardfile import dump_plan
from boardshop.crew.audit import record_export

WIRED = (BOARD, ORDER, SCENES, CABLES, TONE, POWER, FIRST_POWER, LEADS, GROUNDS, PROPOSED, WHICH)
LOOKED_AT = (*WIRED, LAYOUT, UNDERSIDE_PAGE, SIDE_PAGE, PLACE_FOR_ME, WHICH_FRAME)
PAGES: dict[str, Page] = {page.name: page for page in LOOKED_AT}


@require_safe
def board(request: HttpRequest, code: str) -> HttpResponse:
    return BOARD.draw(request, get_board_for(request.user, code))


@require_safe
def order(request: HttpRequest, code: str) -> HttpResponse:
    return ORDER.draw(request, get_board_for(request.user, code))


@require_safe
def layout(request: HttpRequest, code: str) -> HttpResponse:
    return LAYOUT.draw(request, get_board_for(request.user, code))


@require_safe
def underside(request: HttpRequest, code: str) -> HttpResponse:
    return UNDERSIDE_PAGE.draw(request, get_board_for(request.user, code))


@require_safe
def side_view(request: HttpRequest, code: str) -> HttpResponse:
    return SIDE_PAGE.draw(request, get_board_for(request.user, code))


@require_safe
def measure_layout(request: HttpRequest, code: str) -> HttpResponse:
    """How far two things are apart; a script asks for the outcome alone."""
    return draw_measuring(request, get_board_for(request.user, code))


@require_safe
def cables(request: HttpRequest, code: str) -> HttpResponse:
    """With the cable chosen that the address names, or those of a pedal."""
    chosen = PageState(opened=(request.GET.get("run") or request.GET.get("open", ""))[:400])
    return CABLES.draw(request, get_board_for(request.user, code), chosen)


@require_safe
def tone(request: HttpRequest, code: str) -> HttpResponse:
    """With what the address tries beside the board as it is; a wrong value is answered with its error."""
    board = get_board_for(request.user, code)
    page, status = tone_page(board, request.GET)
    return page.draw(request, board, status=status)


@require_safe
def power(request: HttpRequest, code: str) -> HttpResponse:
    return POWER.draw(request, get_board_for(request.user, code))


@require_safe
def grounds(request: HttpRequest, code: str) -> HttpResponse:
    """With the joins that the address names tried open."""
    board = get_board_for(request.user, code)
    return grounds_page(request.GET.getlist(TRIED)).draw(request, board)


@require_safe
def board_file(request: HttpRequest, code: str) -> HttpResponse:
    """The whole board as one document; importing it gives the same board again."""
    found = get_board_for(request.user, code)
    answer = JsonResponse(dump_plan(load_plan(found)), json_dumps_params={"indent": 1, "ensure_ascii": False})
    name = f"{slugify(found.name) or 'board'}-{found.code}.json"
    record_export(request, found.shop, name)
    answer["Content-Disposition"] = f'attachment; filename="{name}"'
    return answer
