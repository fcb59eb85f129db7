from typing import Any

from django.core.management import call_command
from django.core.management.base import BaseCommand
from django.db import connection

# Any number will do, as long as nothing else in this database takes the same advisory lock.
MIGRATION_LOCK = 4_207_001


class Command(BaseCommand):
    help = "Applies migrations, one process at a time: several servers may start at once."

    def handle(self, *args: Any, **options: Any) -> None:
        with connection.cursor() as cursor:
            cursor.execute("select pg_advisory_lock(%s)", [MIGRATION_LOCK])
            try:
                call_command("migrate", interactive=False, verbosity=options["verbosity"])
            finally:
                cursor.execute("select pg_advisory_unlock(%s)", [MIGRATION_LOCK])
