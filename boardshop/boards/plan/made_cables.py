"""Made cables that a board file names: taken where the register has them free, else left as a length."""

from __future__ import annotations

from collections.abc import Iterable

from boardshop.core import plan as core
from boardshop.core.index import fold
from boardshop.crew.codes import clean_code
from boardshop.crew.models import Shop
from boardshop.gear.models import MadeCable


def free_cables(shop: Shop, links: Iterable[core.Link]) -> dict[str, MadeCable]:
    """By a link's folded ref the cable of this shop that it names, if that is on no board, did not fail, and
    has the length that the file says.  Each cable once; one query, none where no link names one."""
    named = {clean_code(link.made_id): link for link in reversed(tuple(links)) if link.made_id}
    if not named:
        return {}
    rows = MadeCable.in_hand.select_for_update(of=("self",)).filter(shop=shop, code__in=named, links=None)
    whole = (row for row in rows.order_by("pk") if row.verdict != "failed")
    pairs = ((named[row.code], row) for row in whole)
    return {
        fold(link.ref): row for link, row in pairs if link.made == row.length and link.made_test != "failed"
    }


def made_length(link: core.Link) -> int | None:
    """What the link is made as; nothing where the file says that its cable failed its test."""
    return None if link.made_test == "failed" else link.made


def say_left(links: Iterable[core.Link], taken: Iterable[str]) -> list[str]:
    """A sentence for each link that names a made cable which was not taken."""
    kept = set(taken)
    return [_say(link) for link in links if (link.made_id or link.made_test) and fold(link.ref) not in kept]


def _say(link: core.Link) -> str:
    if link.made_test == "failed":
        return f"{link.ref} is to be made anew: its cable failed its test."
    if link.made_id is None:
        return f"{link.ref} keeps its made length only: the file names no cable that was tested."
    return f"{link.ref} keeps its made length only: cable {link.made_id} is not free and whole here."
