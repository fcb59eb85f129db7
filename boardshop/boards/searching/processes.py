"""Setting a search going in a process of its own, which outlives the request and the server process.

The setting SEARCH_STARTER names the function that does it; tests name one that does nothing.
"""

from __future__ import annotations

import logging
import os
import subprocess
import sys
from collections.abc import Callable
from threading import Thread

from django.conf import settings
from django.utils import timezone
from django.utils.module_loading import import_string

from boardshop.boards.models import LayoutSearch

log = logging.getLogger(__name__)


def start(pk: int) -> None:
    """One that cannot be set going is told as failed."""
    starter: Callable[[int], None] = import_string(settings.SEARCH_STARTER)
    try:
        starter(pk)
    except OSError:
        log.exception("The process of layout search %d could not be started", pk)
        waiting = LayoutSearch.objects.filter(pk=pk, state=LayoutSearch.State.WAITING)
        waiting.update(state=LayoutSearch.State.FAILED, finished_at=timezone.now())


def start_process(pk: int) -> None:
    """`manage.py run_layout_search PK` in a session of its own, so that no signal to the server ends it."""
    process = subprocess.Popen(
        [sys.executable, "-m", "django", "run_layout_search", str(pk), "--polite"],
        cwd=settings.BASE_DIR,
        env={**os.environ, "DJANGO_SETTINGS_MODULE": "boardshop.settings"},
        stdin=subprocess.DEVNULL,
        start_new_session=True,
    )
    # Somebody has to wait for it, or it stays behind as a zombie.
    Thread(target=process.wait, daemon=True).start()


def start_nothing(pk: int) -> None:
    """For tests: the row waits for a test to run it."""
