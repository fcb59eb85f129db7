from typing import Any

import pytest
from django.conf import settings
from django.db import OperationalError, connection

from boardshop.ops import probe, server


def test_the_server_command_names_address_and_workers() -> None:
    command = server.gunicorn_command("0.0.0.0:8000")
    assert command[1:5] == ["-m", "gunicorn", "boardshop.wsgi", "--bind"]
    assert command[command.index("--workers") + 1] == str(settings.WORKERS)


def test_it_waits_for_the_database(monkeypatch: pytest.MonkeyPatch) -> None:
    answers = iter([OperationalError("starting up"), None])

    def connect() -> None:
        if error := next(answers):
            raise error

    monkeypatch.setattr(connection, "ensure_connection", connect)
    server.wait_for_database(5)
    assert next(answers, "asked twice") == "asked twice"


def test_it_gives_up_in_the_end(monkeypatch: pytest.MonkeyPatch) -> None:
    def connect() -> None:
        raise OperationalError("nobody there")

    monkeypatch.setattr(connection, "ensure_connection", connect)
    with pytest.raises(OperationalError, match="nobody there"):
        server.wait_for_database(0)


@pytest.mark.django_db(transaction=True)
def test_the_probe_tells_a_well_server_from_none(live_server: Any) -> None:
    port = int(live_server.url.rsplit(":")[-1])
    assert probe.main([str(port)]) == 0
    assert probe.main(["1"]) == 1
