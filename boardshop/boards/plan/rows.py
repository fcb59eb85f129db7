"""Storing the rows of a plan: what a column cannot hold is refused by name, before Postgres sees it."""

from collections.abc import Iterable
from typing import Any

from django.core.exceptions import ValidationError
from django.db import models

from boardshop.boards.errors import NotStorable


def store[M: models.Model](row: M, place: str) -> M:
    """Save a new row; `place` is what a person calls the thing it stands for.

    Raises NotStorable with the place, the column and what is wrong.
    """
    check_columns(row, place)
    row.save(force_insert=True)
    return row


def store_all[M: models.Model](model: type[M], rows: Iterable[M], place: str) -> None:
    """Save new rows of one table in one query."""
    kept = list(rows)
    for row in kept:
        check_columns(row, place)
    model._default_manager.bulk_create(kept)


def check_columns(row: models.Model, place: str) -> None:
    """Lengths of texts, words of lists, sizes above zero, digits; keys are for the database to check."""
    fields = [field for field in row._meta.concrete_fields if not field.is_relation and not field.primary_key]
    for field in fields:
        try:
            _check(field, getattr(row, field.attname), row)
        except ValidationError as error:
            said = " ".join(error.messages)
            raise NotStorable(place=place, column=field.verbose_name, detail=said) from error


def _check(field: Any, value: Any, row: models.Model) -> None:
    if value in (None, "", []):
        return
    if not isinstance(field, models.DecimalField):
        field.clean(value, row)
    elif abs(value) >= (largest := 10 ** (field.max_digits - field.decimal_places)):
        raise ValidationError(f"It must be below {largest}.")
