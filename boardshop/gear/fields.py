"""Model fields that gear and boards share: a word of a list, a size, a value nobody may have recorded."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import CheckConstraint, Q
from django.utils.translation import gettext_lazy as _

LARGEST = 1_000_000_000
"""The board file's own limit for a whole number."""


def as_choices(words: Iterable[Any]) -> list[tuple[Any, str]]:
    """The words of a closed list as form choices; the trade's word is also what people read."""
    return [(word, str(word)) for word in words]


def word_field(label: Any, words: Iterable[str], **options: Any) -> models.CharField[Any, Any]:
    """A word of a closed list; blank = nobody recorded it."""
    options.setdefault("blank", True)
    options.setdefault("default", "")
    return models.CharField(label, max_length=20, choices=as_choices(words), **options)


def size_field(label: Any, **options: Any) -> models.PositiveIntegerField[Any, Any]:
    """A length that must be above zero, in mm."""
    return models.PositiveIntegerField(
        label, validators=[MinValueValidator(1), MaxValueValidator(LARGEST)], **options
    )


def known_size_field(label: Any, **options: Any) -> models.PositiveIntegerField[Any, Any]:
    """A size above zero, or null where nobody recorded it."""
    return size_field(label, null=True, blank=True, **options)


def amount_field(label: Any, **options: Any) -> models.PositiveIntegerField[Any, Any]:
    """A whole number from zero on, or null where nobody recorded it."""
    return models.PositiveIntegerField(
        label, null=True, blank=True, validators=[MaxValueValidator(LARGEST)], **options
    )


def flag_field(label: Any, **options: Any) -> models.BooleanField[Any, Any]:
    """Yes, no, or null where nobody recorded it."""
    return models.BooleanField(
        label,
        null=True,
        blank=True,
        choices=[(None, _("not recorded")), (True, _("yes")), (False, _("no"))],
        **options,
    )


def positive(table: str, *columns: str) -> list[CheckConstraint]:
    """One named constraint a column: above zero, or not recorded."""
    return [
        CheckConstraint(
            condition=Q(**{f"{column}__gt": 0}) | Q(**{f"{column}__isnull": True}),
            name=f"{table}_{column}_positive",
        )
        for column in columns
    ]


def one_of(table: str, column: str, words: Iterable[Any]) -> CheckConstraint:
    """A named constraint: a word of the list, blank or not recorded."""
    allowed = ["", *words] if all(isinstance(word, str) for word in words) else list(words)
    return CheckConstraint(
        condition=Q(**{f"{column}__in": allowed}) | Q(**{f"{column}__isnull": True}),
        name=f"{table}_{column}_known",
    )
