"""The kinds of pedal explained: what each does, where it stands in each school, who does otherwise."""

from boardshop.core.kinds.note import KindNote
from boardshop.core.kinds.notes import KIND_NOTES

__all__ = ["KIND_NOTES", "KindNote"]
