from django.db import migrations, models


def release_doubles(apps, schema_editor):
    """A unit stays where it was put first; the others keep its model, and their board's note says so."""
    said = {}
    for name in ("Placement", "SupplyPlacement"):
        seen = set()
        rows = apps.get_model("boards", name).objects.filter(unit__isnull=False)
        for row in rows.select_related("unit").order_by("pk"):
            if row.unit_id in seen:
                serial = row.unit.serial or "without a serial"
                line = f"{row.ref}: unit {serial} was on two boards; only its model is kept here."
                said.setdefault(row.board_id, []).append(line)
                row.unit = None
                row.save(update_fields=["unit"])
            seen.add(row.unit_id)
    for board in apps.get_model("boards", "Board").objects.filter(pk__in=said):
        board.note = "\n".join([*filter(None, [board.note]), *said[board.pk]])
        board.save(update_fields=["note"])


class Migration(migrations.Migration):
    dependencies = [
        ("boards", "0003_incomplete_entries"),
        ("gear", "0001_first"),
    ]

    operations = [
        migrations.RunPython(release_doubles, migrations.RunPython.noop),
        migrations.AddConstraint(
            model_name="placement",
            constraint=models.UniqueConstraint(fields=("unit",), name="unit_is_one_pedal"),
        ),
        migrations.AddConstraint(
            model_name="supplyplacement",
            constraint=models.UniqueConstraint(fields=("unit",), name="unit_is_one_supply"),
        ),
    ]
