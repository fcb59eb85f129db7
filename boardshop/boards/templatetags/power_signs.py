"""`{% load power_signs %}`: what a power page repeats for every outlet, without a template each time."""

from __future__ import annotations

from functools import lru_cache
from html import escape

from django import template
from django.template.loader import render_to_string
from django.utils.safestring import SafeString, mark_safe

from boardshop.boards.pages.load_words import LoadWords

register = template.Library()


@register.simple_tag
def current_sign(current: str | None) -> SafeString:
    return _sign("current", current)


@register.simple_tag
def polarity_sign(polarity: str | None) -> SafeString:
    return _sign("polarity", polarity)


@lru_cache(maxsize=16)
def _sign(name: str, value: str | None) -> SafeString:
    """A drawing without words, so that it is the same in every language."""
    return render_to_string(f"pieces/{name}.html", {name: value})


@register.simple_tag
def load_line(load: LoadWords, headroom: int, *, figures: bool = True) -> SafeString:
    """A bar beside its numbers and its words; without `figures` where the numbers stand elsewhere."""
    parts = [_bar(load.percent, headroom) if load.percent is not None else ""]
    if figures and load.amount:
        comma = "," if load.percent_words else ""
        parts.append(
            f'<span class="figures"><span>{escape(load.amount)}{comma}</span> '
            f"<span>{escape(load.percent_words)}</span></span> "
        )
    parts.append(f'<span class="says is-{escape(load.standing)}">{escape(load.says)}</span>')
    return mark_safe("".join(parts))  # noqa: S308 - every part escapes what it was given


def _bar(percent: float, headroom: int) -> str:
    """As pieces/load_bar.html draws it; it clips what is over its right end."""
    over = " is-over" if percent > 100 else ""
    return (
        f'<svg class="bar{over}" viewBox="0 0 100 9" width="112" height="9" preserveAspectRatio="none"'
        f' aria-hidden="true" focusable="false"><rect class="fill" fill="#000" width="{percent}" height="9"/>'
        f'<g transform="translate(100)"><line class="mark-line" stroke="#000" x1="-{headroom}"'
        f' x2="-{headroom}" y2="9"/></g></svg> '
    )
