"""What the tests of people and shops have in common."""

import re

from django.test import Client as Browser
from django.urls import reverse

from boardshop.crew.invitations import make_invitation
from boardshop.crew.models import AuditEntry, Membership, Shop
from tests.factories import Cast


def member(cast: Cast, role: str) -> Membership:
    """The cast's member of that role."""
    return Membership.objects.get(shop=cast.shop, person=getattr(cast, role))


def role_of(cast: Cast, who: str) -> str | None:
    found = Membership.objects.filter(shop=cast.shop, person=getattr(cast, who)).first()
    return found and found.role


def invite(cast: Cast, role: str = "editor", for_whom: str = "") -> str:
    """The address of a fresh link."""
    return reverse("join", args=[make_invitation(cast.shop, cast.owner, role=role, for_whom=for_whom)])


def audit_of(shop: Shop) -> list[tuple[str, str]]:
    """Kind and subject of each entry, oldest first."""
    return list(AuditEntry.objects.filter(shop=shop).order_by("pk").values_list("kind", "about"))


def mark_in(text: str) -> str:
    """The mark against forged requests of a page's first form."""
    found = re.search(r'name="csrfmiddlewaretoken" value="([^"]+)"', text)
    assert found
    return found[1]


def wary(browser: Browser) -> Browser:
    """The same browser with the check of forms that tests leave out by default."""
    browser.handler.enforce_csrf_checks = True
    return browser
