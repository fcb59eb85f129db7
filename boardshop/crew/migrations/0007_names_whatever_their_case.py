"""Nobody signs in as Mira beside somebody who signs in as mira."""

from typing import Any

import django.db.models.functions.text
from django.db import migrations, models


WORDS = (
    "These names for signing in differ only in case, which no longer goes: %s. Nothing was changed. "
    "Give all but one of each another name, in `python manage.py dbshell` with "
    "UPDATE crew_person SET username = 'new name' WHERE username = 'old name'; "
    "tell the person, and start again."
)


class NamesAlike(Exception):
    """Two accounts whose names differ only in case; which of them gets another is for people to say."""


def refuse_names_alike(apps: Any, schema_editor: Any) -> None:
    """Rename nothing: who signs in by which name would be a guess."""
    people = apps.get_model("crew", "Person").objects.using(schema_editor.connection.alias)
    upper = django.db.models.functions.text.Upper("username")
    names: dict[str, list[str]] = {}
    for name, same in people.order_by("pk").values_list("username", upper):
        names.setdefault(same, []).append(name)
    alike = [" and ".join(found) for found in names.values() if len(found) > 1]
    if alike:
        raise NamesAlike(WORDS % "; ".join(alike))


class Migration(migrations.Migration):
    dependencies = [("crew", "0006_counter")]

    operations = [
        migrations.AlterModelManagers(name="person", managers=[]),
        migrations.RunPython(refuse_names_alike, migrations.RunPython.noop),
        migrations.AddConstraint(
            model_name="person",
            constraint=models.UniqueConstraint(
                django.db.models.functions.text.Upper("username"),
                name="person_name_once_whatever_its_case",
            ),
        ),
    ]
