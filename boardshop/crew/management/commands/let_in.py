from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand, CommandError, CommandParser

from boardshop.crew.letting_in import make_way_in
from boardshop.crew.models import Person


class Command(BaseCommand):
    help = "Print a one-time link with which somebody who forgot the password sets a new one."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("username", help="The name for signing in.")
        parser.add_argument("--reopen", action="store_true", help="Open a closed account first.")
        parser.add_argument(
            "--without-second-factor",
            action="store_true",
            help="Take away the authenticator app, its recovery codes and the passkeys, which are lost.",
        )

    def handle(self, *args: Any, **options: Any) -> None:
        person = Person.objects.filter(username__iexact=options["username"].strip()).first()
        if person is None:
            names = Person.objects.order_by("username").values_list("username", flat=True)[:20]
            raise CommandError(
                f"Nobody is called “{options['username']}”. Names: {', '.join(names) or 'none'}."
            )
        if not person.is_active and not options["reopen"]:
            raise CommandError(f"The account “{person.username}” is closed; --reopen opens it.")
        path = make_way_in(
            person, reopen=options["reopen"], without_second_factor=options["without_second_factor"]
        )
        hours = settings.PASSWORD_RESET_TIMEOUT // 3600
        self.stdout.write(f"Within {hours} hours, once, {person.username} sets a new password here:")
        self.stdout.write(f"{settings.PUBLIC_URL.origin}{path}")
        if settings.PUBLIC_URL.is_local:
            self.stderr.write(f"Where Boardshop is opened at another address, put that before {path}")
