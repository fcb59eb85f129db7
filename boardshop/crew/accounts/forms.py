"""What people type to show who they are."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from allauth.account.forms import LoginForm, ReauthenticateForm
from allauth.mfa.adapter import get_adapter
from allauth.mfa.base.forms import AuthenticateForm
from allauth.mfa.base.forms import ReauthenticateForm as ConfirmByCodeForm
from allauth.mfa.models import Authenticator
from allauth.mfa.totp.forms import ActivateTOTPForm
from allauth.mfa.webauthn.forms import (
    AddWebAuthnForm,
    AuthenticateWebAuthnForm,
    EditWebAuthnForm,
    LoginWebAuthnForm,
    ReauthenticateWebAuthnForm,
)
from cryptography.exceptions import InvalidSignature
from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from boardshop.crew.accounts import second_factor
from boardshop.crew.models import Person
from boardshop.crew.plain_text import refuse_direction_signs

CODE_WIDGET = {
    "autocomplete": "one-time-code",
    "inputmode": "numeric",
    "autocapitalize": "none",
    "spellcheck": "false",
}
NO_PASSKEY = _("The browser sent no passkey. This needs scripts, and a browser and device with passkeys.")


class SignInForm(LoginForm):
    """Name and password; what is wrong is said without telling whether the name exists."""

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        name, password, remember = self.fields["login"], self.fields["password"], self.fields["remember"]
        name.label = _("Name")
        name.widget.attrs = {"autocomplete": "username webauthn", "autocapitalize": "none"}
        password.help_text = ""
        del password.widget.attrs["placeholder"]
        remember.label = _("Keep me signed in on this device")
        remember.initial = True
        remember.help_text = _("Leave it off on a device that is not yours.")


class ConfirmPasswordForm(ReauthenticateForm):
    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["password"].label = _("Your password")
        self.fields["password"].help_text = ""
        del self.fields["password"].widget.attrs["placeholder"]


class OnceOnly(forms.Form):
    """A code is taken once, also the one that the app was added with."""

    user: Person

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["code"].widget.attrs = CODE_WIDGET.copy()

    def clean_code(self) -> str:
        code = "".join(self.cleaned_data["code"].split())
        self.cleaned_data["code"] = code
        if not second_factor.claim_code(self.user, code):
            raise get_adapter().validation_error("incorrect_code")
        try:
            return str(super().clean_code())  # type: ignore[misc]
        except ValidationError:
            second_factor.release_code(self.user, code)
            raise


class CodeForm(OnceOnly, AuthenticateForm):
    pass


class ConfirmCodeForm(OnceOnly, ConfirmByCodeForm):
    pass


class AddAuthenticatorForm(OnceOnly, ActivateTOTPForm):
    pass


@contextmanager
def _malformed_is_refused() -> Iterator[None]:
    """What a browser would never send is refused like any other passkey that does not fit."""
    try:
        yield
    except (AttributeError, IndexError, InvalidSignature, KeyError, TypeError, ValueError) as error:
        raise ValidationError(_("That passkey does not fit. Try again, or use your password.")) from error


class CredentialForm(forms.Form):
    """Carries what the browser got from the passkey."""

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["credential"].error_messages["required"] = NO_PASSKEY

    def clean_credential(self) -> Authenticator:
        with _malformed_is_refused():
            found = super().clean_credential()  # type: ignore[misc]
            if not found.user.is_active:
                raise ValidationError(_("This account is closed; whoever runs the server can open it again."))
        return found


class PasskeySignInForm(CredentialForm, LoginWebAuthnForm):
    pass


class PasskeyCodeForm(CredentialForm, AuthenticateWebAuthnForm):
    pass


class ConfirmPasskeyForm(CredentialForm, ReauthenticateWebAuthnForm):
    pass


def passkey_name() -> forms.CharField:
    """By which its owner tells it from others; a blank one is named after the browser that adds it."""
    return forms.CharField(
        label=_("Name of this passkey"),
        max_length=60,
        required=False,
        validators=[refuse_direction_signs],
        help_text=_("The device or place that keeps it, as “work phone”."),
    )


class AddPasskeyForm(AddWebAuthnForm):
    """One that signs in by itself: the device keeps it and asks for a finger, a face or a PIN."""

    name = passkey_name()
    passwordless = forms.BooleanField(required=False, initial=True, widget=forms.HiddenInput)

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["credential"].error_messages["required"] = NO_PASSKEY

    def clean(self) -> dict[str, Any]:
        self.cleaned_data["passwordless"] = True
        with _malformed_is_refused():
            return dict(super().clean())


class RenamePasskeyForm(EditWebAuthnForm):
    name = passkey_name()
    name.required = True


class MailForm(forms.Form):
    address = forms.EmailField(
        label=_("Mail address"),
        required=False,
        max_length=254,
        widget=forms.EmailInput({"autocomplete": "email"}),
        help_text=_("Only for a link when you forget your password. Leave it blank to keep none."),
    )


class ForgotPasswordForm(forms.Form):
    who = forms.CharField(
        label=_("Your name for signing in, or your mail address"),
        max_length=254,
        widget=forms.TextInput({"autocomplete": "username", "autocapitalize": "none"}),
    )
