"""The shape of what people type about themselves, their shop and their clients."""

import re
from typing import TYPE_CHECKING, Any

from django import forms
from django.contrib.auth.password_validation import password_validators_help_texts, validate_password
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from boardshop.crew.models import AuditEntry, Client, Membership, Person, Shop
from boardshop.crew.once import ONCE, once_field
from boardshop.crew.plain_text import refuse_direction_signs
from boardshop.crew.seen import SeenForm
from boardshop.crew.theme import THEMES

if TYPE_CHECKING:
    from django.db.models import QuerySet

NEW_SECRET = {"autocomplete": "new-password"}


class AccountForm(forms.Form):
    """A new account: a name for signing in and a password."""

    username = forms.CharField(
        label=_("Your name for signing in"),
        max_length=150,
        validators=[Person.username_validator],
        help_text=_("Letters, digits and @ . + - _ ; no spaces."),
        widget=forms.TextInput({"autocomplete": "username", "autocapitalize": "none"}),
    )
    password = forms.CharField(
        label=_("Password"), strip=False, widget=forms.PasswordInput(NEW_SECRET), max_length=4096
    )
    again = forms.CharField(
        label=_("Password again"), strip=False, widget=forms.PasswordInput(NEW_SECRET), max_length=4096
    )

    def password_rules(self) -> list[str]:
        return password_validators_help_texts()

    def clean(self) -> dict[str, Any]:
        typed = super().clean() or {}
        password, again = typed.get("password"), typed.get("again")
        if password and again and password != again:
            self.add_error("again", _("The two passwords differ; type the same one twice."))
        if password:
            try:
                validate_password(password, Person(username=typed.get("username", "")))
            except ValidationError as error:
                self.add_error("password", error)
        return typed


class ShopNameForm(forms.Form):
    shop_name = forms.CharField(
        label=_("Name of the shop"),
        max_length=80,
        validators=[refuse_direction_signs],
        help_text=_("Stands on papers and labels; it can be changed later."),
    )


class AddShopForm(ShopNameForm):
    """A further shop of somebody who has an account."""

    once = once_field()


class SetUpForm(AccountForm, ShopNameForm):
    """The first shop and its owner."""

    field_order = ["shop_name", "username", "password", "again"]


class RoleForm(forms.Form):
    role = forms.ChoiceField(label=_("Role"), choices=Membership.Role.choices, initial=Membership.Role.VIEWER)


class InvitationForm(RoleForm):
    once = once_field()
    for_whom = forms.CharField(
        label=_("For whom"),
        max_length=80,
        required=False,
        validators=[refuse_direction_signs],
        help_text=_("A note for the owners' list; it binds the link to nobody."),
    )


class MemberField(forms.ModelChoiceField[Membership]):
    def label_from_instance(self, obj: Membership) -> str:
        return f"{obj.person} ({obj.get_role_display()})"


class HandOverForm(forms.Form):
    """To whom of the other members."""

    member = MemberField(Membership.objects.none(), label=_("To whom"), empty_label=_("choose a member"))

    def __init__(self, data: Any, members: "QuerySet[Membership]") -> None:
        super().__init__(data)
        choice = self.fields["member"]
        assert isinstance(choice, MemberField)
        choice.queryset = members


class ShopSettingsForm(SeenForm[Shop]):
    class Meta:
        model = Shop
        fields = ["name", "length_unit", "currency", "paper"]
        help_texts = {
            "length_unit": _("Only how lengths are shown and typed; a board file always holds millimetres."),
            "currency": _("Three letters of ISO 4217, as EUR, GBP or USD."),
        }

    def clean_name(self) -> str:
        return _plain(self.cleaned_data["name"])

    def clean_currency(self) -> str:
        code = str(self.cleaned_data["currency"]).strip().upper()
        if not re.fullmatch(r"[A-Z]{3}", code):
            raise ValidationError(_("A currency is written with three letters of ISO 4217, as EUR."))
        return code


class ClientForm(SeenForm[Client]):
    once = once_field()

    class Meta:
        model = Client
        fields = ["name", "kind", "contact", "note"]
        widgets = {"note": forms.Textarea({"rows": 4})}
        help_texts = {"contact": _("Who to call: a name, a number, an address.")}

    def __init__(self, *args: Any, **options: Any) -> None:
        super().__init__(*args, **options)
        if self.instance.pk is not None:
            del self.fields[ONCE]

    def clean_name(self) -> str:
        return _plain(self.cleaned_data["name"])


def _plain(name: str) -> str:
    refuse_direction_signs(name)
    return name


class AuditFilterForm(forms.Form):
    kind = forms.ChoiceField(
        label=_("What happened"), choices=[("", _("everything")), *AuditEntry.Kind.choices], required=False
    )


class ThemeForm(forms.Form):
    theme = forms.ChoiceField(choices=THEMES)
