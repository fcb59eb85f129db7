"""`{% load bench_words %}`: what stands in the record of a job, in words."""

from django import template
from django.utils.translation import gettext as _

from boardshop.boards.pages.cable_words import KIND_WORDS, STRIP_WORDS

register = template.Library()


@register.filter
def kind_of_cable(what: str) -> str:
    """`{{ piece.what|kind_of_cable }}`: patch, amp lead; as it stands where it is no word of ours."""
    return str(KIND_WORDS.get(what, what))


@register.filter
def how_to_strip(fixing: str) -> str:
    """`{{ piece.fixing_from|how_to_strip }}`: by the fixing of the plug as it was booked."""
    ways = {"soldered": "soldered", "solderless": "solderless", "screw": "own sheet", "moulded": "moulded"}
    return str(STRIP_WORDS[ways.get(fixing, "unknown")]) if fixing else _("fixing not recorded")
