import pytest
from django.db import connection
from django.test import Client
from django.urls import reverse

pytestmark = pytest.mark.django_db


def test_healthz_is_well_with_all_migrations(client: Client) -> None:
    answer = client.get(reverse("healthz"))
    assert answer.status_code == 200
    assert answer.json() == {"database": "reachable", "migrations": "applied"}


def test_healthz_names_a_missing_migration(client: Client) -> None:
    with connection.cursor() as cursor:
        cursor.execute("delete from django_migrations where app = 'sessions'")
    answer = client.get(reverse("healthz"))
    assert answer.status_code == 503
    assert answer.json()["migrations"] == "1 missing"


def test_healthz_refuses_post(client: Client) -> None:
    assert client.post(reverse("healthz")).status_code == 405
