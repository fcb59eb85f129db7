"""The devices on which a person is signed in: one session each."""

import re
from dataclasses import dataclass
from datetime import datetime

from allauth.usersessions.models import UserSession
from django.contrib.sessions.models import Session
from django.db.models import QuerySet
from django.http import HttpRequest
from django.utils import timezone
from django.utils.translation import gettext as _

from boardshop.crew.models import Person

RENEWED_ON = "renewed-on"
"""The day on which a device's session was last given its whole length again."""

BROWSERS = {
    r"\bEdgA?/": "Edge",
    r"\bOPR/": "Opera",
    r"\bSamsungBrowser/": "Samsung Internet",
    r"\b(Firefox|FxiOS)/": "Firefox",
    r"\b(Chrome|CriOS|HeadlessChrome)/": "Chrome",
    r"\bSafari/": "Safari",
}
SYSTEMS = {
    r"\biPhone\b": "iPhone",
    r"\biPad\b": "iPad",
    r"\bAndroid\b": "Android",
    r"\bWindows\b": "Windows",
    r"\bMac OS X\b": "Mac",
    r"\bCrOS\b": "ChromeOS",
    r"\bLinux\b": "Linux",
}
"""Signs in what a browser says of itself (RFC 9110, section 10.1.5), the particular before the general."""


@dataclass(frozen=True)
class Device:
    pk: int
    name: str
    address: str
    since: datetime
    used: datetime
    is_this: bool


def name_of(user_agent: str) -> str:
    browser, system = _first(BROWSERS, user_agent), _first(SYSTEMS, user_agent)
    if browser and system:
        return _("%(browser)s on %(system)s") % {"browser": browser, "system": system}
    return browser or system or _("unknown device")


def _first(signs: dict[str, str], text: str) -> str:
    return next((name for sign, name in signs.items() if re.search(sign, text)), "")


def sessions_of(person: Person) -> "QuerySet[UserSession]":
    """Those that still open."""
    alive = Session.objects.filter(expire_date__gt=timezone.now()).values("session_key")
    found: QuerySet[UserSession] = UserSession.objects.filter(user=person, session_key__in=alive)
    return found


def list_devices(request: HttpRequest, person: Person) -> list[Device]:
    """This device first, then by last use; two queries."""
    this = request.session.session_key
    devices = [
        Device(
            pk=found.pk,
            name=name_of(found.user_agent),
            address=found.ip,
            since=found.created_at,
            used=found.last_seen_at,
            is_this=found.session_key == this,
        )
        for found in sessions_of(person)
    ]
    return sorted(devices, key=lambda device: (not device.is_this, -device.used.timestamp(), device.pk))


def note_device(request: HttpRequest) -> None:
    """Keep that this device was used, under which name and from where."""
    request.session[RENEWED_ON] = timezone.localdate().isoformat()
    UserSession.objects.create_from_request(request)


def end_device(person: Person, pk: int) -> bool:
    """The device asks for a sign-in at its next request; False for one that is not the person's."""
    found = UserSession.objects.filter(user=person, pk=pk).first()
    if found is None:
        return False
    found.end()
    return True


def end_other_devices(person: Person, keep: str | None) -> int:
    """All but the session with the key `keep`; returns how many."""
    others = list(UserSession.objects.filter(user=person).exclude(session_key=keep or ""))
    for other in others:
        other.end()
    return len(others)
