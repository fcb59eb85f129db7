from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("boards", "0004_a_unit_on_one_board"),
    ]

    operations = [
        migrations.AddField(
            model_name="board",
            name="begun_by",
            field=models.CharField(blank=True, default="", editable=False, max_length=64),
        ),
        migrations.AddConstraint(
            model_name="board",
            constraint=models.UniqueConstraint(
                fields=("shop", "begun_by"),
                condition=~models.Q(begun_by=""),
                name="board_begun_once_by_a_form",
            ),
        ),
    ]
