"""Passkeys of a person, and where they can be used at all."""

from ipaddress import ip_address
from typing import Any

from allauth.mfa.models import Authenticator
from allauth.mfa.webauthn.internal.auth import begin_registration
from django.conf import settings
from django.db.models import QuerySet
from django.http import HttpRequest
from django.utils.translation import gettext as _

from boardshop.crew.models import Person


def passkeys_of(person: Person) -> QuerySet[Authenticator]:
    found: QuerySet[Authenticator] = Authenticator.objects.filter(
        user=person, type=Authenticator.Type.WEBAUTHN
    ).order_by("pk")
    return found


def begin_passkey(person: Person) -> dict[str, Any]:
    """What the browser is asked for: a key that it finds by itself and that makes sure who holds it.

    The library's own request leaves it to its script to ask for both.
    """
    wanted: dict[str, Any] = begin_registration(person, passwordless=True)
    return wanted


def what_hinders(request: HttpRequest) -> str:
    """Why no browser would use a passkey here, and the way out; blank where one would.

    Web Authentication (W3C), sections 5.1.2 and 13.4.9: a secure context, and a domain name that the passkey
    is tied to.
    """
    public = settings.PUBLIC_URL
    if _is_number(public.host):
        return _("Passkeys need a server with a name; this one is reached by a number (%(address)s).") % {
            "address": public.origin
        }
    if not public.is_secure and public.host != "localhost":
        return _("Passkeys need https; this server is reached without it (%(address)s).") % {
            "address": public.origin
        }
    if request.get_host().partition(":")[0] != public.host:
        return _("Passkeys work where this server is opened as %(address)s.") % {"address": public.origin}
    return ""


def _is_number(host: str) -> bool:
    try:
        ip_address(host.strip("[]"))
    except ValueError:
        return False
    return True
