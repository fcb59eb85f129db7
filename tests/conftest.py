"""Starts the private test cluster when a test first asks for the database."""

import os
from pathlib import Path

import pytest
from django.conf import settings

from boardshop.ops import postgres


@pytest.fixture(scope="session")
def django_db_modify_db_settings(django_db_modify_db_settings_parallel_suffix: None) -> None:
    if not (os.environ.get("BOARDSHOP_DATABASE_URL") or os.environ.get("BOARDSHOP_DATABASE_URL_FILE")):
        postgres.start(Path(settings.DATA_DIR), "test")
