import pytest
from django.conf import LazySettings
from django.test import Client

from tests.factories import Cast

pytestmark = pytest.mark.django_db


def test_a_body_far_over_the_limit_is_refused_unread(client: Client, settings: LazySettings) -> None:
    settings.UPLOAD_LIMIT_BYTES = 1024 * 1024
    answer = client.post("/sign-in", b"x", content_type="text/plain", CONTENT_LENGTH=str(2 * 1024 * 1024 + 1))
    assert answer.status_code == 413
    assert "at most 1 MB" in answer.text


@pytest.mark.parametrize(
    ("address", "stood_on", "back"),
    [
        ("/boards/7K3MA/files", "http://testserver/boards/7K3MA/pedals/P4/change?x=1", None),
        ("/boards/7K3MA/files", "http://elsewhere.example/clients", "/boards/7K3MA"),
        ("/boards/7K3MA/files", "", "/boards/7K3MA"),
        ("/boards/7K3MA/files", "http://testserver/boards/7K3MA/undo", "/boards/7K3MA"),
        ("/gear/pedals/import", "http://testserver/gear/", "/gear/pedals/import"),
    ],
)
def test_what_is_too_large_leads_back_to_its_form(
    client: Client, settings: LazySettings, address: str, stood_on: str, back: str | None
) -> None:
    settings.UPLOAD_LIMIT_BYTES = 4
    answer = client.post(address, b"123456789", content_type="text/plain", headers={"Referer": stood_on})
    assert answer.status_code == 413
    assert f'href="{back or stood_on.removeprefix("http://testserver")}"' in answer.text
    assert "elsewhere" not in answer.text


def test_a_body_at_twice_the_limit_reaches_the_form(client: Client, settings: LazySettings) -> None:
    settings.UPLOAD_LIMIT_BYTES = 4
    assert client.post("/sign-in", b"12345678", content_type="text/plain").status_code != 413


@pytest.mark.parametrize("length", ["", "none", "-1"])
def test_an_odd_length_is_left_to_the_server(client: Client, length: str) -> None:
    assert client.get("/healthz", CONTENT_LENGTH=length).status_code == 200


@pytest.mark.parametrize("address", ["/boards/%00", "/?find=a%00b"])
def test_nul_in_an_address_is_refused(cast: Cast, address: str) -> None:
    answer = cast.browser("owner").get(address)
    assert answer.status_code == 400
    assert "was not understood" in answer.text
