import os
from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from boardshop.boards.models import LayoutSearch
from boardshop.boards.searching.running import DATABASE_GONE, run_search

POLITE = 10
"""Pages come before searches."""


class Command(BaseCommand):
    help = "Run one search for a layout, as the server starts it beside itself."
    # The server has made its checks already, and somebody waits.
    requires_system_checks: list[str] = []

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("search", type=int, help="The key of the search's row.")
        parser.add_argument("--polite", action="store_true", help="Let everything else go first.")

    def handle(self, *args: Any, **options: Any) -> None:
        if not LayoutSearch.objects.filter(pk=options["search"]).exists():
            raise CommandError(f"There is no search {options['search']}; its board may be gone.")
        if options["polite"]:
            os.nice(POLITE)
        try:
            run_search(options["search"])
        except DATABASE_GONE as error:
            raise CommandError("The database went away, so the search ended.") from error
