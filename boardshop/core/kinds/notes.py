"""Every kind of pedal in plain words: what it does, where it usually stands, and who does otherwise."""

from boardshop.core.kinds.carrying_notes import CARRYING_NOTES
from boardshop.core.kinds.effect_notes import EFFECT_NOTES
from boardshop.core.kinds.note import KindNote
from boardshop.core.kinds.tone_notes import TONE_NOTES

__all__ = ["KIND_NOTES", "KindNote"]

KIND_NOTES: dict[str, KindNote] = TONE_NOTES | EFFECT_NOTES | CARRYING_NOTES
