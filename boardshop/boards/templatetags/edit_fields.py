"""`{% load edit_fields %}`: the fields of an edit row, written without a template for each widget.

A power page holds some hundred of them and is drawn anew on every edit; Django's own rendering opens a
template for each field, each widget and each option.
"""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from html import escape
from typing import Any

from django import forms, template
from django.forms.boundfield import BoundField
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from boardshop.boards.forms.edits import BASE, EditForm

register = template.Library()


@register.simple_tag
def edit_field(bound: BoundField, of: str = "", kind: str = "") -> SafeString:
    """One field with its label, what is wrong with it, and after a conflict what stands there now.

    `of` completes the label for those who do not see the row: "cable of W7".  `kind` is a further class.
    """
    errors = [str(error) for error in bound.errors]
    now = bound.form.now.get(bound.name) if isinstance(bound.form, EditForm) else None
    label, control = _label(bound, of), _control(bound, errors, has_now=now is not None)
    is_check = isinstance(bound.field.widget, forms.CheckboxInput)
    classes = ("edit-field", *(("is-check",) if is_check else ()), *((kind,) if kind else ()))
    parts = (
        f'<div class="{escape(" ".join(classes))}">',
        *((control, label) if is_check else (label, control)),
        *_notes(bound, errors, now),
        "</div>",
    )
    return mark_safe("".join(parts))  # noqa: S308 - every part escapes what it was given


@register.simple_tag
def edit_hidden(form: EditForm, edit_number: int) -> SafeString:
    """The edit number and the fields as the page shows them now, and the form's other hidden fields."""
    others = [(bound.html_name, bound.value()) for bound in form.hidden_fields() if bound.name != "edit"]
    hidden = [_hidden(name, value) for name, value in (("edit", edit_number), *others)]
    return mark_safe("".join(hidden) + edit_base(form))  # noqa: S308 - attributes are escaped


@register.simple_tag
def edit_base(form: EditForm) -> SafeString:
    """What the form's fields show, to tell later which of them the person changed; nothing for one field."""
    shown = form.shown()
    return mark_safe(_hidden(BASE, shown) if shown else "")  # noqa: S308 - attributes are escaped


def _hidden(name: str, value: Any) -> str:
    return f"<input{_attributes({'type': 'hidden', 'name': name, 'value': value})}>"


@register.simple_tag
def edit_now(bound: BoundField) -> str:
    """After a conflict: what stands in this field now, where it was typed differently; else blank."""
    return bound.form.now.get(bound.name, "") if isinstance(bound.form, EditForm) else ""


def _label(bound: BoundField, of: str) -> str:
    unit = getattr(bound.field, "unit", "")
    parts = (
        f'<label for="{escape(bound.auto_id)}">{escape(str(bound.label))}',
        f' <span class="unit">{escape(unit)}</span>' if unit else "",
        f'<span class="visually-hidden"> {escape(_("of"))} {escape(of)}</span>' if of else "",
        "</label>",
    )
    return "".join(parts)


def _notes(bound: BoundField, errors: Iterable[str], now: str | None) -> list[str]:
    """What is wrong, and what stands there now; their ids are what the control is described by."""
    field_id = escape(bound.auto_id)
    notes = [
        f'<span class="form-error" id="{field_id}-{number}">{escape(error)}</span>'
        for number, error in enumerate(errors)
    ]
    if now is not None:
        notes.append(f'<span class="form-help" id="{field_id}-now">{escape(_("now: %s") % now)}</span>')
    return notes


def _control(bound: BoundField, errors: list[str], *, has_now: bool) -> str:
    described = [f"{bound.auto_id}-{number}" for number in range(len(errors))]
    described += [f"{bound.auto_id}-now"] if has_now else []
    attributes = {"name": bound.html_name, "id": bound.auto_id, **bound.field.widget.attrs}
    if errors:
        attributes["aria-invalid"] = "true"
    if described:
        attributes["aria-describedby"] = " ".join(described)
    if isinstance(bound.field.widget, forms.Select):
        return f"<select{_attributes(attributes)}>{_options(bound)}</select>"
    if isinstance(bound.field.widget, forms.CheckboxInput):
        checked = {"checked": ""} if bound.value() else {}
        return f"<input{_attributes({'type': 'checkbox', **attributes, **checked})}>"
    if isinstance(bound.field.widget, forms.Textarea):
        return f"<textarea{_attributes(attributes)}>\n{escape(_text(bound.value()))}</textarea>"
    return f"<input{_attributes({'type': 'text', **attributes, 'value': bound.value()})}>"


def _attributes(attributes: dict[str, Any]) -> str:
    return "".join([f' {name}="{escape(_text(value))}"' for name, value in attributes.items()])


def _options(bound: BoundField) -> str:
    chosen = _text(bound.value())
    choices: Iterable[tuple[Any, Any]] = bound.field.widget.choices
    texts = ((_text(value), str(words)) for value, words in choices)
    return "".join([_option(value, words, value == chosen) for value, words in texts])


@lru_cache(maxsize=4096)
def _option(value: str, words: str, is_chosen: bool) -> str:
    """Kept, since a page has thousands of them, and few that differ."""
    return f'<option value="{escape(value)}"{" selected" if is_chosen else ""}>{escape(words)}</option>'


def _text(value: Any) -> str:
    return "" if value is None else str(value)
