"""What the library for signing in does differently here; settings.py names the two classes."""

from typing import Any

import segno
from allauth.account.adapter import DefaultAccountAdapter
from allauth.core import context
from allauth.mfa.adapter import DefaultMFAAdapter
from django.conf import settings
from django.contrib import messages
from django.contrib.auth.base_user import AbstractBaseUser
from django.core.exceptions import ImproperlyConfigured
from django.http import HttpRequest
from django.utils.safestring import mark_safe
from django.utils.translation import gettext_lazy as _

from boardshop.crew.accounts import devices, limits, secrecy
from boardshop.crew.audit import record_refused_sign_in

TOO_MANY = _(
    "Too many tries that did not fit. Wait ten minutes and try again; others who sign in from here are not "
    "held up, and a passkey opens at once."
)
WRONG_CODE = _(
    "That code does not fit, or was used before. Wait for the next one; if none fits, check the clock of the "
    "phone, or use a recovery code."
)
SAID = {
    "mfa/messages/totp_activated.txt": _("The authenticator app is on."),
    "mfa/messages/totp_deactivated.txt": _("The authenticator app is off, and its recovery codes are void."),
    "mfa/messages/webauthn_added.txt": _("The passkey is added."),
    "mfa/messages/webauthn_removed.txt": _("The passkey opens no more. Delete it on the device, too."),
}
"""What a person reads after it; the library's other remarks are left out."""


class AccountAdapter(DefaultAccountAdapter):
    """Nobody signs up by themselves; tries are limited by name and address together."""

    error_messages = DefaultAccountAdapter.error_messages | {
        "username_password_mismatch": _(
            "That name and password do not go together. Mind capitals and small letters in the password."
        ),
        "incorrect_password": _("That is not your password. Mind capitals and small letters."),
        "too_many_login_attempts": TOO_MANY,
        "rate_limited": TOO_MANY,
    }

    def is_open_for_signup(self, request: HttpRequest) -> bool:
        return False

    def get_client_ip(self, request: HttpRequest) -> str:
        """The nearest server's address where fewer wrote theirs down than `BOARDSHOP_PROXIES` says."""
        try:
            return str(super().get_client_ip(request))
        except ImproperlyConfigured:
            return str(request.META["REMOTE_ADDR"])

    def pre_authenticate(self, request: HttpRequest, **credentials: Any) -> None:
        if limits.is_barred_anywhere(request, credentials.get("username", "")):
            raise self.validation_error("too_many_login_attempts")
        super().pre_authenticate(request, **credentials)

    def _get_login_attempts_cache_key(self, request: HttpRequest, **credentials: Any) -> str:
        return limits.pair_of(request, credentials.get("username", ""))

    def authentication_failed(self, request: HttpRequest, **credentials: Any) -> None:
        name = credentials.get("username", "")
        limits.count_failure(request, name)
        record_refused_sign_in(name, limits.address_of(request))

    def get_login_stages(self) -> list[str]:
        return ["boardshop.crew.accounts.stages.CodeStage"]

    def add_message(
        self,
        request: HttpRequest,
        level: int,
        message_template: str | None = None,
        message_context: dict[str, Any] | None = None,
        extra_tags: str = "",
        message: str | None = None,
    ) -> None:
        said = message or SAID.get(message_template or "")
        if said:
            messages.add_message(request, level, said, extra_tags=extra_tags)


class SecondFactorAdapter(DefaultMFAAdapter):
    """Secrets are encrypted, and a passkey belongs to the address that people type."""

    error_messages = DefaultMFAAdapter.error_messages | {"incorrect_code": WRONG_CODE}

    def encrypt(self, text: str) -> str:
        return secrecy.encrypt(text)

    def decrypt(self, encrypted_text: str) -> str:
        return secrecy.decrypt(encrypted_text)

    def generate_authenticator_name(self, user: AbstractBaseUser, type: Any) -> str:
        """The name of a passkey that its owner gave none."""
        return devices.name_of(context.request.headers.get("User-Agent", ""))

    def build_totp_svg(self, url: str) -> str:
        """Dark on white in every theme, with the four modules of margin that ISO/IEC 18004 asks for."""
        code = segno.make_qr(url)
        return mark_safe(code.svg_inline(scale=5, border=4, dark="#000", light="#fff", omitsize=False))  # noqa: S308

    def get_public_key_credential_rp_entity(self) -> dict[str, str]:
        return {"id": settings.PUBLIC_URL.host, "name": "Boardshop"}

    def get_public_key_credential_user_entity(self, user: AbstractBaseUser) -> dict[str, Any]:
        entity: dict[str, Any] = super().get_public_key_credential_user_entity(user)
        return entity | {"display_name": str(user)}
