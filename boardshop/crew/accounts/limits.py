"""How often somebody may try, counted so that one who guesses does not lock others out.

A name is tried from one address a few times, then waits; the same name from elsewhere and other names from
the same address go on.  Against one who guesses from many addresses a name has a wider limit, which does not
hold for addresses that the person has signed in from.
"""

from ipaddress import IPv6Address, ip_address, ip_network

from allauth.account import app_settings
from allauth.account.adapter import get_adapter
from allauth.core.internal.ratelimit import parse_rates
from allauth.core.ratelimit import consume
from allauth.usersessions.models import UserSession
from django.forms import Form
from django.http import HttpRequest

from boardshop.crew.models import Person

ANYWHERE = "login_failed_anywhere"
TOO_MANY = {"too_many_login_attempts", "rate_limited"}
"""Codes of the errors that say so."""


def address_of(request: HttpRequest) -> str:
    """Where the request came from, as far as the servers in front of the app tell (`BOARDSHOP_PROXIES`)."""
    return str(get_adapter().get_client_ip(request))


def account_of(name: str) -> str:
    """One word for every way of writing a name: the person who is found by it, else the name in capitals."""
    found = Person.objects.filter(username__iexact=name).values_list("pk", flat=True).first()
    return f"person {found}" if found else f"nobody {name.upper()}"


def pair_of(request: HttpRequest, name: str) -> str:
    """One account from one address; the 2^64 addresses of an IPv6 network are one place (RFC 4291)."""
    address = ip_address(address_of(request))
    place = ip_network((address, 64), strict=False) if isinstance(address, IPv6Address) else address
    return f"{account_of(name)} | {place}"


def is_barred_anywhere(request: HttpRequest, name: str) -> bool:
    if consume(request, action=ANYWHERE, key=account_of(name), dry_run=True):
        return False
    devices = UserSession.objects.filter(user__username__iexact=name, ip=address_of(request))
    return not devices.exists()


def count_failure(request: HttpRequest, name: str) -> None:
    consume(request, action=ANYWHERE, key=account_of(name))


def wait_of(action: str) -> int:
    """Seconds after which a try is free again at the latest."""
    return max(int(rate.duration) for rate in parse_rates(app_settings.RATE_LIMITS[action]))


def is_too_many(form: Form) -> bool:
    """Whether the form was refused for the number of tries, whatever was typed."""
    return any(error.code in TOO_MANY for errors in form.errors.as_data().values() for error in errors)
