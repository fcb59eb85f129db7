import pytest
from django.test import Client as Browser
from django.urls import reverse

from boardshop.crew.models import AuditEntry, Person
from tests.factories import PASSWORD, Cast

pytestmark = pytest.mark.django_db
URL = reverse("change-password")
NEW = "violet-cable-under-the-frame"
TYPED = {"old_password": PASSWORD, "new_password1": NEW, "new_password2": NEW}


@pytest.mark.parametrize("role", ["owner", "editor", "viewer", "stranger"])
def test_everybody_changes_their_own_and_stays_signed_in(cast: Cast, role: str) -> None:
    browser = cast.browser(role)
    assert browser.post(URL, TYPED).url == reverse("account")
    kept = {
        name: Person.objects.get(pk=getattr(cast, name).pk).check_password(NEW) for name in ("owner", role)
    }
    assert kept == {"owner": role == "owner", role: True}
    assert browser.get(reverse("boards")).status_code == 200


def test_other_devices_are_signed_out(cast: Cast) -> None:
    other = cast.browser("editor")
    cast.browser("editor").post(URL, TYPED)
    assert other.get(reverse("boards")).status_code == 302


@pytest.mark.parametrize(
    ("wrong", "field"),
    [
        ({"old_password": "guess"}, "old_password"),
        ({"new_password2": NEW + "x"}, "new_password2"),
        ({"new_password1": "12345", "new_password2": "12345"}, "new_password2"),
        ({"new_password1": "", "new_password2": ""}, "new_password1"),
    ],
)
def test_what_is_wrong_stands_beside_its_field(cast: Cast, wrong: dict[str, str], field: str) -> None:
    answer = cast.browser("editor").post(URL, TYPED | wrong)
    assert answer.status_code == 422
    assert field in answer.context["form"].errors
    assert Person.objects.get(pk=cast.editor.pk).check_password(PASSWORD)
    assert PASSWORD not in answer.text


def test_the_persons_menu_leads_there(cast: Cast) -> None:
    assert f'href="{URL}"' in cast.browser("viewer").get(reverse("account")).text
    assert "Old password" in cast.browser("viewer").get(URL).text


def test_nobody_signed_in_is_sent_to_sign_in(client: Browser) -> None:
    assert client.get(URL).url.startswith(reverse("sign-in"))


def test_change_password_refuses_other_methods(cast: Cast) -> None:
    assert cast.browser("editor").put(URL).status_code == 405


def test_a_changed_password_stands_in_the_audit(cast: Cast) -> None:
    cast.browser("editor").post(URL, TYPED)
    entry = AuditEntry.objects.get()
    assert (entry.kind, entry.about, entry.person) == ("security-changed", "password changed", cast.editor)
