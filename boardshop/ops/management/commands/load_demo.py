"""Loads the demo shop and prints how to sign in."""

from typing import Any

from django.core.management.base import BaseCommand, CommandError, CommandParser

from boardshop.crew.models import Person
from boardshop.ops.demo.load import USERNAME, load_demo


class Command(BaseCommand):
    help = "Load the demo shop with its boards, and print its account and random password."

    def add_arguments(self, parser: CommandParser) -> None:
        parser.add_argument("--if-empty", action="store_true", help="Do nothing if anybody has an account.")

    def handle(self, *args: Any, **options: Any) -> None:
        if options["if_empty"] and Person.objects.exists():
            return
        if Person.objects.filter(username__iexact=USERNAME).exists():
            raise CommandError(f"The account “{USERNAME}” is there already, so the demo is loaded.")
        account = load_demo()
        self.stdout.write(f"Demo account: {account.username}")
        self.stdout.write(f"Demo password: {account.password}")
