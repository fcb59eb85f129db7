"""Which gear the variants and the released revisions need, whose rows no foreign key guards."""

from __future__ import annotations

from collections import defaultdict
from typing import Any

from django.db import models

from boardshop.boards.history.state import BY_NAME, State
from boardshop.boards.models import Revision, Variant


def gear_kept_aside() -> dict[type[models.Model], set[int]]:
    """The keys by model; reads every kept state, so ask only where something is to be deleted for good."""
    kept: dict[type[models.Model], set[int]] = defaultdict(set)
    for model in (Variant, Revision):
        for state in model._default_manager.values_list("state", flat=True).iterator(chunk_size=20):
            _note_uses(state or {}, kept)
    return kept


def _note_uses(state: State, kept: dict[type[models.Model], set[int]]) -> None:
    for name, rows in state.items():
        for field in _gear_columns(name):
            used = {columns.get(field.column) for columns in rows.values()}
            kept[field.related_model] |= {int(key) for key in used if key is not None}


def _gear_columns(table: str) -> list[Any]:
    fields = BY_NAME[table].model._meta.local_concrete_fields if table in BY_NAME else []
    return [f for f in fields if f.related_model and f.related_model._meta.app_label == "gear"]
