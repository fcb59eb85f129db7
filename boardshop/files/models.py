"""Photos and files: their bytes, each kept once, and what a shop says about them.

What a file is of is said by tables of other apps, each with a one-to-one `attachment`: its holders.
"""

import secrets

from django.db import models
from django.db.models import CheckConstraint, Q, UniqueConstraint
from django.utils.translation import gettext_lazy as _

from boardshop.crew.models import Person, Shop
from boardshop.crew.trash import Trashable


def new_key() -> str:
    """128 bits in letters that stand in an address."""
    return secrets.token_urlsafe(16)


class Content(models.Model):
    """The bytes of a file or of its thumbnail, once in a shop however often they are used.

    They lie in the database, so that every process has them, a kill leaves none half written, and a dump of
    the database is the whole backup.  Nothing that makes a list may load them.
    """

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="contents")
    sha256 = models.CharField(max_length=64)
    content = models.BinaryField()
    size = models.PositiveIntegerField()

    class Meta:
        constraints = [UniqueConstraint(fields=["shop", "sha256"], name="content_once_per_shop")]

    def __str__(self) -> str:
        return f"{self.sha256[:12]}, {self.size} bytes"


class Attachment(Trashable):
    """One photo or file of a thing in the shop, with what it shows and when it was taken."""

    class Kind(models.TextChoices):
        PHOTO = "photo", _("photo")
        FILE = "file", _("file")

    class Shows(models.TextChoices):
        FRONT = "front", _("front")
        UNDERSIDE = "underside", _("underside")
        KNOBS = "knobs", _("knobs")
        INSIDE = "inside", _("inside")
        RECEIPT = "receipt", _("receipt")
        OTHER = "other", _("something else")

    shop = models.ForeignKey(Shop, models.CASCADE, related_name="attachments")
    key = models.CharField(max_length=22, unique=True, default=new_key, editable=False)
    kind = models.CharField(max_length=5, choices=Kind)
    name = models.CharField(_("name"), max_length=120)
    media_type = models.CharField(max_length=40)
    width = models.PositiveIntegerField(null=True, blank=True)
    height = models.PositiveIntegerField(null=True, blank=True)
    size = models.PositiveIntegerField()
    content = models.ForeignKey(Content, models.RESTRICT, related_name="+")
    thumbnail = models.ForeignKey(Content, models.RESTRICT, related_name="+", null=True, blank=True)
    shows = models.CharField(_("what it shows"), max_length=9, choices=Shows, default=Shows.OTHER)
    caption = models.CharField(_("words beneath it"), max_length=200, blank=True)
    taken_on = models.DateField(_("taken on"), null=True, blank=True)
    added_by = models.ForeignKey(Person, models.SET_NULL, related_name="+", null=True, blank=True)
    added_by_name = models.CharField(max_length=150, blank=True)
    """Who it was, also after their account is gone."""
    added_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-added_at", "-pk"]
        constraints = [
            CheckConstraint(condition=Q(kind__in=["photo", "file"]), name="attachment_kind_known"),
            CheckConstraint(
                condition=Q(shows__in=["front", "underside", "knobs", "inside", "receipt", "other"]),
                name="attachment_shows_known",
            ),
            CheckConstraint(
                condition=Q(kind="file") | Q(thumbnail__isnull=False, width__gt=0, height__gt=0),
                name="attachment_photo_has_a_thumbnail",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def is_photo(self) -> bool:
        return self.kind == self.Kind.PHOTO
