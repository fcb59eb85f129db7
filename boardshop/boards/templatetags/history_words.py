"""`{% load history_words %}`: what the list of changes looks up."""

from django import template

from boardshop.boards.models import Change, Revision

register = template.Library()


@register.filter
def released_at(released: dict[int, list[Revision]], change: Change) -> list[Revision]:
    """`{{ released|released_at:change }}`: the revisions that froze the state which this change left."""
    return released.get(change.number, [])
