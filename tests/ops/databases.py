"""Empty databases beside the test database, for programs that run as processes of their own."""

import os
from collections.abc import Iterator
from contextlib import contextmanager
from urllib.parse import quote

import psycopg
from django.db import connection


def url_of(name: str) -> str:
    facts = connection.settings_dict
    who = quote(facts["USER"], safe="")
    if facts["PASSWORD"]:
        who += ":" + quote(facts["PASSWORD"], safe="")
    port = f"&port={facts['PORT']}" if facts["PORT"] else ""
    return f"postgresql://{who}@/{name}?host={quote(facts['HOST'], safe='')}{port}"


@contextmanager
def empty_database(suffix: str) -> Iterator[str]:
    """The address of a new database; its name ends with `suffix` and it is dropped afterwards."""
    name = f"test_boardshop_{os.getpid()}_{suffix}"
    with psycopg.connect(url_of("postgres"), autocommit=True) as server:
        server.execute(f'create database "{name}"')
        try:
            yield url_of(name)
        finally:
            server.execute(f'drop database "{name}" with (force)')
