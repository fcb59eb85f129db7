"""What people type to show who they are."""

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from allauth.account.adapter import get_adapter as get_account_adapter
from allauth.account.forms import LoginForm, ReauthenticateForm
from allauth.core import context
from allauth.core.internal.cryptokit import normalize_user_code
from allauth.mfa.adapter import get_adapter
from allauth.mfa.base.forms import AuthenticateForm
from allauth.mfa.base.forms import ReauthenticateForm as ConfirmByCodeForm
from allauth.mfa.models import Authenticator
from allauth.mfa.totp.forms import ActivateTOTPForm
from allauth.mfa.totp.internal.auth import SECRET_SESSION_KEY
from allauth.mfa.webauthn.forms import (
    AddWebAuthnForm,
    AuthenticateWebAuthnForm,
    EditWebAuthnForm,
    LoginWebAuthnForm,
    ReauthenticateWebAuthnForm,
)
from cryptography.exceptions import InvalidSignature
from django import forms
from django.contrib.auth.forms import PasswordChangeForm
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
NO_FIT = _("That passkey does not fit here, or was removed. Try again, or use your password.")
NO_MATCH = _(
    "That code does not fit the secret that stands here. Wait for the next one; if none fits, check the "
    "clock of the phone and let the app read the square again."
)
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


class ChangePasswordForm(PasswordChangeForm):
    """The present password is tried like one at the sign-in: counted, and a wrong one stands in the audit."""

    def clean_old_password(self) -> str:
        typed: str = self.cleaned_data["old_password"]
        adapter = get_account_adapter()
        if not adapter.reauthenticate(self.user, typed):
            raise adapter.validation_error("incorrect_password")
        return typed


class OnceOnly(forms.Form):
    """A code is taken once, also the one that the app was added with."""

    user: Person

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        self.fields["code"].widget.attrs = CODE_WIDGET.copy()

    def clean_code(self) -> str:
        # As it is compared: what people type between the figures, and which, makes no other code of it.
        code = normalize_user_code(self.cleaned_data["code"])
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
    """The secret stays until it is used, so that a second tab does not take it from the first one."""

    def __init__(self, *args: Any, **options: Any) -> None:
        kept = context.request.session.get(SECRET_SESSION_KEY)
        super().__init__(*args, **options)
        if kept:
            self.secret = context.request.session[SECRET_SESSION_KEY] = kept

    def clean_code(self) -> str:
        try:
            return super().clean_code()
        except ValidationError as error:
            if error.code != "incorrect_code":
                raise
            raise ValidationError(NO_MATCH) from error


@contextmanager
def _as_passkey() -> Iterator[None]:
    """What a browser would never send is refused like any other passkey that does not fit."""
    try:
        yield
    except ValidationError as error:
        if error.code != "incorrect_code":
            raise
        raise ValidationError(NO_FIT) from error
    except (AttributeError, IndexError, InvalidSignature, KeyError, TypeError, ValueError) as error:
        raise ValidationError(NO_FIT) from error


class CredentialField(forms.JSONField):
    """What a browser got from a passkey; some 2,000 letters, and never nested deeply."""

    def __init__(self, **options: Any) -> None:
        super().__init__(widget=forms.HiddenInput, error_messages={"required": NO_PASSKEY}, **options)

    def to_python(self, value: Any) -> Any:
        try:
            return super().to_python(value)
        except RecursionError as error:
            raise ValidationError(NO_FIT) from error


class CredentialForm(forms.Form):
    """Carries what the browser got from the passkey."""

    credential = CredentialField()

    def clean_credential(self) -> Authenticator:
        with _as_passkey():
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
    credential = CredentialField()
    passwordless = forms.BooleanField(required=False, initial=True, widget=forms.HiddenInput)

    def clean(self) -> dict[str, Any]:
        self.cleaned_data["passwordless"] = True
        with _as_passkey():
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
