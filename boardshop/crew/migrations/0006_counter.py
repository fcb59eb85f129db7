from django.db import migrations


class Migration(migrations.Migration):
    """The table of settings.CACHES, as Django's own `createcachetable` makes it."""

    dependencies = [("crew", "0005_forms_sent_once")]

    operations = [
        migrations.RunSQL(
            sql=[
                "CREATE TABLE crew_counter (cache_key varchar(255) NOT NULL PRIMARY KEY,"
                " value text NOT NULL, expires timestamp with time zone NOT NULL)",
                "CREATE INDEX crew_counter_expires ON crew_counter (expires)",
            ],
            reverse_sql="DROP TABLE crew_counter",
        )
    ]
