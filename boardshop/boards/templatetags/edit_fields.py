"""`{% load edit_fields %}`: the fields of an edit row, written without a template for each widget.

A power page holds some hundred of them and is drawn anew on every edit; Django's own rendering opens a
template for each field, each widget and each option.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django import forms, template
from django.forms.boundfield import BoundField
from django.utils.html import conditional_escape as escape
from django.utils.html import format_html, format_html_join
from django.utils.safestring import SafeString, mark_safe
from django.utils.translation import gettext as _

from boardshop.boards.forms.edits import EditForm

register = template.Library()


@register.simple_tag
def edit_field(bound: BoundField, of: str = "", kind: str = "") -> SafeString:
    """One field with its label, what is wrong with it, and after a conflict what stands there now.

    `of` completes the label for those who do not see the row: "cable of W7".  `kind` is a further class.
    """
    form = bound.form
    errors = [str(error) for error in bound.errors]
    now = form.now.get(bound.name) if isinstance(form, EditForm) else None
    notes = format_html_join("", '<span class="form-error" id="{}-{}">{}</span>', _numbered(bound, errors))
    if now is not None:
        notes += format_html(
            '<span class="form-help" id="{}-now">{}</span>', bound.auto_id, _("now: %s") % now
        )
    unit = getattr(bound.field, "unit", "")
    label = format_html(
        '<label for="{}">{}{}{}</label>',
        bound.auto_id,
        bound.label,
        format_html(' <span class="unit">{}</span>', unit) if unit else "",
        format_html('<span class="visually-hidden"> {} {}</span>', _("of"), of) if of else "",
    )
    control = _control(bound, errors, has_now=now is not None)
    order = (control, label) if _is_check(bound) else (label, control)
    return format_html(
        '<div class="edit-field{}{}">{}{}{}</div>',
        " is-check" if _is_check(bound) else "",
        f" {kind}" if kind else "",
        *order,
        notes,
    )


@register.simple_tag
def edit_hidden(form: EditForm, edit_number: int) -> SafeString:
    """The edit number that the page shows now, and the form's other hidden fields as they are."""
    others = [bound for bound in form.hidden_fields() if bound.name != "edit"]
    return format_html('<input type="hidden" name="edit" value="{}">', edit_number) + format_html_join(
        "", '<input type="hidden" name="{}" value="{}">', ((b.html_name, _text(b.value())) for b in others)
    )


@register.simple_tag
def edit_now(bound: BoundField) -> str:
    """After a conflict: what stands in this field now, where it was typed differently; else blank."""
    return bound.form.now.get(bound.name, "") if isinstance(bound.form, EditForm) else ""


def _numbered(bound: BoundField, errors: Iterable[str]) -> list[tuple[str, int, str]]:
    return [(bound.auto_id, number, error) for number, error in enumerate(errors)]


def _is_check(bound: BoundField) -> bool:
    return isinstance(bound.field.widget, forms.CheckboxInput)


def _control(bound: BoundField, errors: list[str], *, has_now: bool) -> SafeString:
    described = [f"{bound.auto_id}-{number}" for number in range(len(errors))]
    described += [f"{bound.auto_id}-now"] if has_now else []
    attributes = {"name": bound.html_name, "id": bound.auto_id, **bound.field.widget.attrs}
    if errors:
        attributes["aria-invalid"] = "true"
    if described:
        attributes["aria-describedby"] = " ".join(described)
    if isinstance(bound.field.widget, forms.Select):
        return format_html("<select{}>{}</select>", _attributes(attributes), _options(bound))
    if _is_check(bound):
        checked = {"checked": ""} if bound.value() else {}
        return format_html("<input{}>", _attributes({"type": "checkbox", **attributes, **checked}))
    if isinstance(bound.field.widget, forms.Textarea):
        return format_html("<textarea{}>\n{}</textarea>", _attributes(attributes), _text(bound.value()))
    return format_html(
        "<input{}>", _attributes({"type": "text", **attributes, "value": _text(bound.value())})
    )


def _attributes(attributes: dict[str, Any]) -> SafeString:
    return format_html_join("", ' {}="{}"', attributes.items())


def _options(bound: BoundField) -> SafeString:
    chosen = _text(bound.value())
    choices: Iterable[tuple[Any, Any]] = bound.field.widget.choices
    return mark_safe("".join(_option(value, words, chosen) for value, words in choices))  # noqa: S308


def _option(value: Any, words: Any, chosen: str) -> str:
    """Not by format_html: a page has thousands of them."""
    selected = " selected" if _text(value) == chosen else ""
    return f'<option value="{escape(value)}"{selected}>{escape(words)}</option>'


def _text(value: Any) -> str:
    return "" if value is None else str(value)
