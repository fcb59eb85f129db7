"""`{% load remembered %}`: parts of a page that are drawn once for what they show, and known again.

A row that an edit did not touch has the same text as before it, but for the edit number and the token in its
forms.  Those two are drawn as marks and filled in when the part is put into an answer.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Callable, Hashable
from dataclasses import dataclass
from secrets import token_hex
from threading import Lock
from typing import Any, Final

from django import template
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import get_language

register = template.Library()

TOKEN: Final = f"token-{token_hex(16)}"
NUMBER: Final = f"number-{token_hex(16)}"
"""Nobody can write them into a name, since they are others in every process."""
MOST = 4096
"""Parts that are kept, some 2 kB each."""


@dataclass(frozen=True)
class BoardOfPart:
    """All that a remembered part may know of its board."""

    code: str
    edit_number: str = NUMBER


class Memory:
    """Texts by what they show, those asked for last; several threads may ask."""

    def __init__(self, most: int) -> None:
        self._most, self._texts, self._lock = most, OrderedDict[Hashable, str](), Lock()

    def get(self, shown: Hashable, draw: Callable[[], str]) -> str:
        with self._lock:
            text = self._texts.get(shown)
            if text is not None:
                self._texts.move_to_end(shown)
                return text
        text = draw()
        with self._lock:
            self._texts[shown] = text
            while len(self._texts) > self._most:
                self._texts.popitem(last=False)
        return text

    def clear(self) -> None:
        with self._lock:
            self._texts.clear()


MEMORY = Memory(MOST)


@register.simple_tag(takes_context=True)
def remembered(context: Any, name: str, **named: Any) -> SafeString:
    """`{% remembered "boards/layout_row.html" row=row %}`: the template with these values and no others.

    Besides them it sees `shop`, `page`, `may_edit`, the board's code and edit number, and the token.
    A value is plain, or says in its `memory` all that is shown of it; where that is None, as with a form that
    was refused, the part is drawn anew.
    """
    board, shop = context["board"], context["shop"]
    page, may_edit = context.get("page", ""), context.get("may_edit", False)
    given = {**named, "shop": shop, "page": page, "may_edit": may_edit, "board": BoardOfPart(board.code)}
    drawn = context.template.engine.get_template(name)

    def draw() -> str:
        return str(drawn.render(context.new({**given, "csrf_token": TOKEN})))

    memories = [_memory_of(value) for value in named.values()]
    if None in memories:
        text = draw()
    else:
        of_shop = shop.length_unit, shop.currency
        text = MEMORY.get((name, get_language(), board.code, of_shop, page, may_edit, *memories), draw)
    return mark_safe(_fill_in(text, context, board.edit_number))  # noqa: S308 - a template escaped it


def _fill_in(text: str, context: Any, edit_number: int) -> str:
    """The token is only asked for where a form needs it: asking for it sets a cookie."""
    if TOKEN in text:
        text = text.replace(TOKEN, str(context.get("csrf_token", "")))
    return text.replace(NUMBER, str(edit_number))


def _memory_of(value: Any) -> Hashable | None:
    """Its type counts as well, since 1 and True are alike to a dictionary and not on a page."""
    if value is None or isinstance(value, str | int):
        return type(value), value
    if isinstance(value, list | tuple):
        of_parts = tuple(_memory_of(one) for one in value)
        return None if None in of_parts else of_parts
    memory: Hashable | None = getattr(value, "memory", None)
    return memory
