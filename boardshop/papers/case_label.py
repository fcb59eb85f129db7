"""What stands on a road-case label: nothing that helps a thief, everything that helps a loader."""

from collections.abc import Iterable
from typing import Any

from django.conf import settings
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import gettext as _

from boardshop.boards.pages.wording import say_mains
from boardshop.boards.sheet import BoardSheet
from boardshop.core.plan import Supply
from boardshop.core.weight import WeightSection
from boardshop.papers.qr import draw_qr


def describe_case(sheet: BoardSheet) -> dict[str, Any]:
    """The context of the label's template; the code opens the board's stage page."""
    board = sheet.board
    address = f"{settings.PUBLIC_URL.origin}{reverse('stage-board', args=[board.code])}"
    return {
        "board": board,
        "shop": board.shop,
        "sheet": sheet,
        "address": address,
        "qr": draw_qr(address),
        "weight_words": say_weight(sheet.weight),
        "mains_words": list_mains(sheet.plan.supplies),
        "printed_on": timezone.localdate(),
    }


def list_mains(supplies: Iterable[Supply]) -> list[str]:
    """`S1, S2: 100 to 240 V, 50/60 Hz, inlet C8`: one line for all supplies that ask for the same."""
    alike: dict[str, list[str]] = {}
    for supply in supplies:
        alike.setdefault(say_mains(supply.mains), []).append(supply.ref)
    return [f"{', '.join(refs)}: {words}" for words, refs in alike.items()]


def say_weight(weight: WeightSection) -> str:
    """The board's weight in kg, `at least` where something is not weighed."""
    kg = f"{weight.board_g / 1000:.2f} kg"
    return _("at least %(kg)s, not everything is weighed") % {"kg": kg} if weight.unknown else kg
