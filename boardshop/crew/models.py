"""People, the shops that own everything, and whose gear and boards they look after."""

from typing import ClassVar

from django.contrib.auth.models import AbstractUser, UserManager
from django.db import models
from django.db.models import Q, UniqueConstraint
from django.db.models.functions import Lower, Upper
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from boardshop.crew.trash import KEPT, Trashable


class PersonManager(UserManager["Person"]):
    use_in_migrations = False

    def get_by_natural_key(self, username: str | None) -> "Person":
        """Whoever signs in by that name, whatever its case."""
        return self.get(username__iexact=username)


class Person(AbstractUser):
    """Somebody with an account; what they may do is said by their memberships, never by a flag here.

    The three facts below belong to one request and are set by ShopInUseMiddleware.
    """

    shop_in_use: int | None = None
    """The shop that this device works in, as its session keeps it; None before any page was shown."""
    is_sending = False
    """Whether a form is being sent: it must not go to another shop than the one its page was of."""
    shop_shown: int | None = None
    """The shop that was found for the answer."""

    objects: ClassVar[PersonManager] = PersonManager()

    class Meta(AbstractUser.Meta):
        constraints = [
            # In capitals, as `iexact` compares: a name that it looks for is at most one person's.
            UniqueConstraint(Upper("username"), name="person_name_once_whatever_its_case"),
        ]

    def __str__(self) -> str:
        return self.get_full_name() or self.username


class Shop(models.Model):
    """The space that owns gear, boards and papers; every row belongs to exactly one."""

    class LengthUnit(models.TextChoices):
        MM = "mm", _("millimetres")
        CM = "cm", _("centimetres")
        INCH = "in", _("inches")

    class Paper(models.TextChoices):
        A4 = "A4", _("A4, 210 × 297 mm")
        LETTER = "Letter", _("Letter, 8.5 × 11 in")

    name = models.CharField(_("name"), max_length=80)
    length_unit = models.CharField(
        _("lengths shown in"), max_length=2, choices=LengthUnit, default=LengthUnit.MM
    )
    currency = models.CharField(
        _("currency"), max_length=3, default="EUR", help_text=_("Three letters of ISO 4217.")
    )
    paper = models.CharField(_("paper"), max_length=6, choices=Paper, default=Paper.A4)
    people = models.ManyToManyField(Person, through="Membership", related_name="shops")

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(currency__regex=r"^[A-Z]{3}$"), name="shop_currency_is_three_letters"
            ),
            models.CheckConstraint(
                condition=Q(length_unit__in=["mm", "cm", "in"]), name="shop_length_unit_known"
            ),
            models.CheckConstraint(condition=Q(paper__in=["A4", "Letter"]), name="shop_paper_known"),
        ]

    def __str__(self) -> str:
        return self.name


class Membership(models.Model):
    """What a person may do in a shop."""

    class Role(models.TextChoices):
        OWNER = "owner", _("owner")
        EDITOR = "editor", _("editor")
        VIEWER = "viewer", _("viewer")

    EDITING_ROLES = (Role.OWNER, Role.EDITOR)

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="memberships")
    person = models.ForeignKey(Person, models.CASCADE, related_name="memberships")
    role = models.CharField(_("role"), max_length=6, choices=Role)
    since = models.DateTimeField(auto_now_add=True, null=True)
    """Null for those who were members before this was recorded."""

    class Meta:
        constraints = [
            UniqueConstraint(fields=["shop", "person"], name="membership_once_per_shop"),
            models.CheckConstraint(
                condition=Q(role__in=["owner", "editor", "viewer"]), name="membership_role_known"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.person} is {self.role} of {self.shop}"


class Client(Trashable):
    """An artist on tour or a customer of the shop: whose gear and boards these are."""

    class Kind(models.TextChoices):
        ARTIST = "artist", _("artist")
        CUSTOMER = "customer", _("customer")

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="clients")
    kind = models.CharField(_("kind"), max_length=8, choices=Kind, default=Kind.ARTIST)
    name = models.CharField(_("name"), max_length=80)
    contact = models.CharField(_("contact"), max_length=200, blank=True)
    note = models.TextField(_("note"), blank=True)

    class Meta:
        ordering = ["name"]
        constraints = [
            UniqueConstraint("shop", Lower("name"), condition=KEPT, name="client_name_once_per_shop"),
            models.CheckConstraint(condition=Q(kind__in=["artist", "customer"]), name="client_kind_known"),
            models.CheckConstraint(condition=~Q(name=""), name="client_has_a_name"),
        ]

    def __str__(self) -> str:
        return self.name


class SetupToken(models.Model):
    """Opens the first-start page once; only its digest is kept, and it goes when the first person exists."""

    digest = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField(auto_now_add=True)

    def __str__(self) -> str:
        return f"made {self.made_at:%Y-%m-%d %H:%M}"


class Invitation(models.Model):
    """A link that makes whoever opens it a member, once; only the digest of its token is kept."""

    class State(models.TextChoices):
        OPEN = "open", _("open")
        USED = "used", _("used")
        REVOKED = "revoked", _("revoked")
        EXPIRED = "expired", _("expired")

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="invitations")
    role = models.CharField(_("role"), max_length=6, choices=Membership.Role)
    for_whom = models.CharField(_("for whom"), max_length=80, blank=True)
    digest = models.CharField(max_length=64, unique=True)
    made_at = models.DateTimeField(auto_now_add=True)
    made_by = models.ForeignKey(Person, models.SET_NULL, related_name="+", null=True, blank=True)
    expires_at = models.DateTimeField()
    used_at = models.DateTimeField(null=True, blank=True)
    used_by = models.ForeignKey(Person, models.SET_NULL, related_name="+", null=True, blank=True)
    revoked_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        ordering = ["-made_at", "-pk"]
        constraints = [
            models.CheckConstraint(
                condition=Q(role__in=["owner", "editor", "viewer"]), name="invitation_role_known"
            ),
            models.CheckConstraint(
                condition=Q(used_at=None) | Q(revoked_at=None), name="invitation_used_or_revoked"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_role_display()}, {self.for_whom}" if self.for_whom else self.get_role_display()

    @property
    def state(self) -> State:
        """At this moment."""
        if self.used_at:
            return self.State.USED
        if self.revoked_at:
            return self.State.REVOKED
        return self.State.OPEN if timezone.now() < self.expires_at else self.State.EXPIRED


class AuditEntry(models.Model):
    """Something an owner must be able to look up later; a trigger refuses to change one."""

    class Kind(models.TextChoices):
        SIGN_IN = "sign-in", _("signed in")
        SIGN_IN_REFUSED = "sign-in-refused", _("sign-in refused")
        SECURITY_CHANGED = "security-changed", _("password, passkey or codes changed")
        INVITATION_MADE = "invitation-made", _("invitation made")
        INVITATION_USED = "invitation-used", _("invitation used")
        INVITATION_REVOKED = "invitation-revoked", _("invitation revoked")
        ROLE_CHANGED = "role-changed", _("role changed")
        MEMBER_LEFT = "member-left", _("left the shop")
        MEMBER_REMOVED = "member-removed", _("removed from the shop")
        OWNERSHIP_HANDED_OVER = "ownership-handed-over", _("ownership handed over")
        SHARE = "share", _("shared")
        RELEASE = "release", _("revision released")
        EXPORT = "export", _("exported")
        RESTORE = "restore", _("restored")

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="audit_entries")
    at = models.DateTimeField(auto_now_add=True)
    person = models.ForeignKey(Person, models.SET_NULL, related_name="+", null=True, blank=True)
    who = models.CharField(max_length=150, blank=True)
    kind = models.CharField(max_length=24, choices=Kind)
    about = models.CharField(max_length=400, blank=True)

    class Meta:
        ordering = ["-at", "-pk"]
        indexes = [models.Index(fields=["shop", "-at"], name="audit_of_a_shop")]

    def __str__(self) -> str:
        return f"{self.who}: {self.get_kind_display()}"


class SentForm(models.Model):
    """A form that made something, so that the same one sent twice makes it once; see once.py."""

    person = models.ForeignKey(Person, models.CASCADE, related_name="+")
    mark = models.CharField(max_length=64)
    made_address = models.CharField(max_length=300, blank=True)
    at = models.DateTimeField(default=timezone.now, db_index=True)

    class Meta:
        constraints = [UniqueConstraint(fields=["person", "mark"], name="form_sent_once")]

    def __str__(self) -> str:
        return f"{self.person_id}: {self.made_address}"
