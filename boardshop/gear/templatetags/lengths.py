"""`{% load lengths %}`: lengths and other values as people read them; unknown says so."""

from __future__ import annotations

from decimal import Decimal

from django import template
from django.utils.translation import gettext

from boardshop.core.lengths import show_length
from boardshop.crew.models import Shop

register = template.Library()


@register.filter
def length(mm: int | Decimal | None, shop: Shop | str) -> str:
    """`{{ mm|length:shop }}`: 120 mm, 12 cm or 4.72 in, as the shop (or a unit) says."""
    if mm is None or mm == "":
        return gettext("not recorded")
    return show_length(mm, shop.length_unit if isinstance(shop, Shop) else shop)


@register.filter
def volts(mv: int | None) -> str:
    """`{{ mv|volts }}`: 9 V, 9.6 V."""
    if mv is None:
        return gettext("not recorded")
    return f"{(Decimal(mv) / 1000).normalize():f} V"


@register.filter
def known(value: object, unit: str = "") -> str:
    """`{{ value|known:"mA" }}`: the value with its unit, yes or no for a flag, or “not recorded”."""
    if value is None or value == "":
        return gettext("not recorded")
    if isinstance(value, bool):
        return gettext("yes") if value else gettext("no")
    return f"{value} {unit}".strip()
