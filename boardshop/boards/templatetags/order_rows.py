"""`{% load order_rows %}`: the form that moves a pedal, written without a template.

The order page holds one for each pedal and is drawn anew on every edit.
"""

from __future__ import annotations

from html import escape
from typing import Any

from django import template
from django.urls import reverse
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from boardshop.boards.models import Board
from boardshop.boards.pages.order import OrderRow

register = template.Library()


@register.simple_tag(takes_context=True)
def move_form(context: Any, row: OrderRow, board: Board) -> SafeString:
    """Position, one earlier, one later, and the grip that a script drags by; a real form in all of them."""
    ref, name = row.pedal.ref, row.pedal.name or row.pedal.ref
    address = escape(reverse("move-pedal", args=[board.code, ref]))
    hidden = {
        "csrfmiddlewaretoken": context["csrf_token"],
        "edit": board.edit_number,
        "line": row.line,
    }
    grip = escape(_("Move %s: arrow keys, or drag") % name)
    parts = (
        f'<form class="move-form" data-label="{escape(_("Position"))}" method="post"',
        f' action="{address}" hx-post="{address}" hx-trigger="change, submit" hx-sync="#sheet:queue all"',
        " novalidate data-no-guard>",
        *(_hidden(key, value) for key, value in hidden.items()),
        f'<a class="way" href="#wire-{row.line}">{escape(row.way)}</a>' if row.way else "",
        _position(row, name),
        _step(f"earlier-{ref}", row.earlier or 1, row.earlier is None, "↑", _("%s one place earlier") % name),
        _step(f"later-{ref}", row.later or row.last, row.later is None, "↓", _("%s one place later") % name),
        f'<button type="button" class="grip scripted" id="{escape(f"grip-{ref}")}" aria-label="{grip}">',
        '<span aria-hidden="true"></span></button>',
        _wrong(row),
        "</form>",
    )
    return mark_safe("".join(parts))  # noqa: S308 - every part escapes what it was given


def _hidden(name: str, value: Any) -> str:
    return f'<input type="hidden" name="{name}" value="{escape(str(value))}">'


def _position(row: OrderRow, name: str) -> str:
    """What was typed stays where it was refused."""
    value = row.position if row.moved is None else row.moved["position"].value()
    field = f"move-{row.pedal.ref}-position"
    attributes = {
        "class": "figures",
        "type": "text",
        "inputmode": "numeric",
        "autocomplete": "off",
        "name": "position",
        "id": field,
        "value": "" if value is None else value,
    }
    if _errors(row):
        attributes |= {"aria-invalid": "true", "aria-describedby": _wrong_id(row)}
    written = "".join(f' {key}="{escape(str(value))}"' for key, value in attributes.items())
    label = escape(_("Position of %s in its line") % name)
    return (
        f'<label class="visually-hidden" for="{escape(field)}">{label}</label><input{written}>'
        f'<button class="button is-small keep">{escape(_("Move"))}'
        f'<span class="visually-hidden"> {escape(name)}</span></button>'
    )


def _step(button: str, goal: int, is_off: bool, sign: str, label: str) -> str:
    return (
        f'<button class="button is-small" name="to" value="{goal}"{" disabled" if is_off else ""}'
        f' aria-label="{escape(label)}" id="{escape(button)}">{sign}</button>'
    )


def _wrong(row: OrderRow) -> str:
    errors = _errors(row)
    said = escape(" ".join(errors))
    return f'<span class="form-error" id="{escape(_wrong_id(row))}">{said}</span>' if errors else ""


def _wrong_id(row: OrderRow) -> str:
    return f"move-{row.pedal.ref}-wrong"


def _errors(row: OrderRow) -> list[str]:
    return [] if row.moved is None else [str(error) for error in row.moved["position"].errors]
