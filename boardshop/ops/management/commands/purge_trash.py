from datetime import timedelta
from typing import Any

from django.core.management.base import BaseCommand, CommandParser
from django.db import transaction
from django.utils import timezone

from boardshop.boards.history.kept_gear import gear_kept_aside
from boardshop.boards.services.trash import purge_boards
from boardshop.crew.clients import purge_clients
from boardshop.crew.models import Shop
from boardshop.crew.once import forget_sent_forms
from boardshop.crew.trash import KEPT_DAYS
from boardshop.files.store import sweep_files
from boardshop.gear.services import purge_gear


class Command(BaseCommand):
    help = f"Deletes for good what has been in the trash for more than {KEPT_DAYS} days."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--dry-run", action="store_true", help="Say what would go, and delete nothing.")

    def handle(self, *args: Any, **options: Any) -> None:
        """Boards before their gear and their clients; what something still holds stays, and is named."""
        before = timezone.now() - timedelta(days=KEPT_DAYS)
        with transaction.atomic():
            boards = purge_boards(before)
            gear, held = purge_gear(before, gear_kept_aside())
            clients, kept = purge_clients(before)
            files = sum(sweep_files(shop) for shop in Shop.objects.order_by("pk"))
            forget_sent_forms()
            transaction.set_rollback(options["dry_run"])
        verb = "Would delete" if options["dry_run"] else "Deleted"
        self.stdout.write(f"{verb} boards: {boards}, gear: {gear}, clients: {clients}, files: {files}.")
        if held or kept:
            self.stdout.write(f"Still used, so they stay in the trash: {', '.join([*held, *kept])}.")
