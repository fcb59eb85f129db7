"""Prints the one-time set-up link in the log while nobody has an account."""

from typing import Any

from django.conf import settings
from django.core.management.base import BaseCommand
from django.urls import reverse

from boardshop.crew.setup import issue_setup_token


class Command(BaseCommand):
    help = "Print a new one-time set-up link, if nobody has an account yet."

    def handle(self, *args: Any, **options: Any) -> None:
        token = issue_setup_token()
        if token is not None:
            address = f"{settings.PUBLIC_URL.origin}{reverse('set-up', args=[token])}"
            self.stdout.write(f"Nobody has an account yet. Make the first one here, once: {address}")
