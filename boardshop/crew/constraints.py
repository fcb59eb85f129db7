"""From a constraint that Postgres refused to the sentence that the service would have said itself.

Each app keeps one table, constraint name -> Refusal, and wraps what it writes:

    with refusals_by(GEAR_REFUSALS, model=sheet.name):
        model.save()
"""

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from django.apps import apps
from django.db import IntegrityError, models, transaction
from django.db.models import ForeignObjectRel, ProtectedError, Q, RestrictedError

from boardshop.crew.errors import Refusal

type Refusals = Mapping[str, type[Refusal]]

SHOWN_USERS = 3
"""So many of the rows that hold something back are named; the rest is counted."""


@contextmanager
def refusals_by(table: Refusals, **objects: Any) -> Iterator[None]:
    """Inside, a constraint of `table` raises its Refusal, filled with `objects`; any other passes through.

    A Refusal that has no field of its own takes the column that the constraint is about, and may name it as
    `%(column)s`.  A savepoint of its own keeps the surrounding transaction usable.
    """
    try:
        with transaction.atomic():
            yield
    except (ProtectedError, RestrictedError):
        raise
    except IntegrityError as error:
        name = constraint_of(error)
        kind = table.get(name)
        if kind is None:
            raise
        column = column_of(name)
        said = {} if column is None else {"column": label_of(column)}
        raise kind(field=kind.field or (column.name if column else ""), **said, **objects) from error


def constraint_of(error: IntegrityError) -> str:
    """The name of the constraint that Postgres refused; blank when the driver does not tell."""
    diagnosis = getattr(error.__cause__, "diag", None)
    return getattr(diagnosis, "constraint_name", None) or ""


def column_of(constraint: str) -> "models.Field[Any, Any] | None":
    """The one column that a check of this name looks at; None for a check of several, or none at all."""
    for model in apps.get_models():
        for one in model._meta.constraints:
            if one.name == constraint and isinstance(one, models.CheckConstraint):
                columns = sorted(one.condition.referenced_base_fields) if isinstance(one.condition, Q) else []
                column = model._meta.get_field(columns[0]) if len(columns) == 1 else None
                return column if isinstance(column, models.Field) else None
    return None


def label_of(column: "models.Field[Any, Any]") -> str:
    """As the page labels it: `width, mm` is `Width`."""
    words = str(column.verbose_name).partition(",")[0]
    return words[:1].upper() + words[1:]


def named_constraints(*tables: type[models.Model]) -> list[str]:
    """Every constraint name of these models, sorted."""
    return sorted(constraint.name for table in tables for constraint in table._meta.constraints)


def users_of(error: ProtectedError | RestrictedError) -> str:
    """The rows that still use what was to go, named for a sentence: `link W7, feed S1.4 and 2 more`."""
    return named(error.protected_objects if isinstance(error, ProtectedError) else error.restricted_objects)


def uses_of(row: models.Model) -> str:
    """As `users_of`, for a row that stays: who would hold it back; blank when nobody would."""
    holders: list[models.Model] = []
    for relation in row._meta.get_fields(include_hidden=True):
        if isinstance(relation, ForeignObjectRel) and relation.on_delete in (models.PROTECT, models.RESTRICT):
            rows = relation.related_model._default_manager.filter(**{relation.field.name: row})
            holders += rows[: SHOWN_USERS + 1]
    return named(holders)


def named(rows: Iterable[models.Model]) -> str:
    """Rows for a sentence; one that knows a better way to name itself has `described_use`."""
    names = sorted(
        row.described_use() if hasattr(row, "described_use") else f"{row._meta.verbose_name} {row}"
        for row in rows
    )
    shown = ", ".join(names[:SHOWN_USERS])
    return shown if len(names) <= SHOWN_USERS else f"{shown} and {len(names) - SHOWN_USERS} more"
