"""The one store of photos and files: what comes in, where it is kept, and what nothing holds any more."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from datetime import date, timedelta
from hashlib import sha256
from typing import Any, Protocol

from django.conf import settings
from django.core.files.uploadedfile import UploadedFile
from django.db import transaction
from django.db.models import Q, QuerySet, Sum
from django.utils import timezone

from boardshop.crew.models import Person, Shop
from boardshop.crew.trash import kept_since, put_in_trash, take_out
from boardshop.crew.uploads import MEGABYTE, limit_text
from boardshop.files.documents import make_document
from boardshop.files.errors import EmptyFile, FileRefused, FileTooLarge, PhoneFormat, StoreFull, UnknownFile
from boardshop.files.models import Attachment, Content
from boardshop.files.photos import make_photo

UNHELD_FOR = timedelta(hours=1)
"""So long a file that nothing holds is left alone."""
# The first bytes: ITU-T T.81 B.1.1.3, W3C PNG 5.2, RFC 9649 2.4, GIF89a 17; ISO/IEC 14496-12 4.3 for `ftyp`.
PICTURE_STARTS = (b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n", b"GIF87a", b"GIF89a")
PHONE_BRANDS = {b"heic", b"heix", b"hevc", b"heim", b"heis", b"mif1", b"msf1", b"avif", b"avis"}
PDF_WITHIN = 1024
"""A PDF may begin a little later than its file; readers look this far (ISO 32000-1, annex H, note 13)."""


class Holder(Protocol):
    """The thing that a file is of."""

    def files(self) -> QuerySet[Attachment]:
        """Its own, those in the trash included."""

    def hold(self, attachment: Attachment) -> None:
        """Keep this one among its own."""


@dataclass(frozen=True)
class Made:
    """What is kept of one file that came in."""

    name: str
    kind: str
    media_type: str
    content: bytes
    thumbnail: bytes | None = None
    width: int | None = None
    height: int | None = None
    taken_on: date | None = None


@dataclass
class Received:
    """What became of the files that were sent: new, there already, or refused and why."""

    added: list[Attachment] = field(default_factory=list)
    there: list[Attachment] = field(default_factory=list)
    refused: list[FileRefused] = field(default_factory=list)


def receive_files(
    holder: Holder, shop: Shop, person: Person | None, uploads: Iterable[UploadedFile[Any]], shows: str
) -> Received:
    """Keep each good file, whatever the others are; the same content is kept once on the same thing."""
    received = Received()
    for upload in uploads:
        try:
            attachment, is_new = _keep(holder, shop, person, make_file(upload), shows)
            (received.added if is_new else received.there).append(attachment)
        except FileRefused as refusal:
            received.refused.append(refusal)
    return received


def make_file(upload: UploadedFile[Any]) -> Made:
    """What it is by its content, never by its name or what the browser says of it."""
    name = clean_name(upload.name or "")
    if not upload.size:
        raise EmptyFile(name=name)
    if upload.size > settings.UPLOAD_LIMIT_BYTES:
        raise FileTooLarge(name=name, limit=limit_text())
    content = bytes(upload.read())
    if content.startswith(PICTURE_STARTS) or (content[:4] == b"RIFF" and content[8:12] == b"WEBP"):
        photo = make_photo(content, name)
        sides = photo.width, photo.height
        return Made(name, "photo", "image/jpeg", photo.content, photo.thumbnail, *sides, photo.taken_on)
    if content[4:8] == b"ftyp" and content[8:12] in PHONE_BRANDS:
        raise PhoneFormat(name=name)
    if b"%PDF-" in content[:PDF_WITHIN]:
        return Made(name, "file", "application/pdf", make_document(content, name))
    raise UnknownFile(name=name)


LONGEST_NAME = 120
"""As many characters as the column holds."""


def clean_name(name: str) -> str:
    """What a person reads as its name: the last part of a path, in one line, cut before its ending."""
    last = re.split(r"[/\\]", name)[-1]
    plain = "".join(sign if sign.isprintable() else " " for sign in last)
    short = " ".join(plain.split())
    if len(short) > LONGEST_NAME:
        start, dot, ending = short.rpartition(".")
        ending = f"…{dot}{ending}" if start and len(ending) <= 8 else "…"
        short = short[: LONGEST_NAME - len(ending)] + ending
    return short or "file"


@transaction.atomic
def _keep(
    holder: Holder, shop: Shop, person: Person | None, made: Made, shows: str
) -> tuple[Attachment, bool]:
    # One at a time in a shop, so that the limit holds and a form sent twice finds its first.
    Shop.objects.select_for_update(no_key=True).get(pk=shop.pk)
    digest = sha256(made.content).hexdigest()
    for there in holder.files().filter(content__sha256=digest):
        if there.trashed_at is not None:
            take_out(there)
        return there, False
    _check_room(shop, made, digest)
    attachment = Attachment.objects.create(
        shop=shop,
        kind=made.kind,
        name=made.name,
        media_type=made.media_type,
        width=made.width,
        height=made.height,
        size=len(made.content),
        content_id=_store(shop, made.content),
        thumbnail_id=_store(shop, made.thumbnail) if made.thumbnail is not None else None,
        shows=shows,
        taken_on=made.taken_on,
        added_by=person,
        added_by_name=str(person)[:150] if person else "",
    )
    holder.hold(attachment)
    return attachment, True


def _store(shop: Shop, content: bytes) -> int:
    digest = sha256(content).hexdigest()
    known = Content.objects.filter(shop=shop, sha256=digest).values_list("pk", flat=True).first()
    return known or Content.objects.create(shop=shop, sha256=digest, content=content, size=len(content)).pk


def _check_room(shop: Shop, made: Made, digest: str) -> None:
    if Content.objects.filter(shop=shop, sha256=digest).exists():
        return
    new = len(made.content) + len(made.thumbnail or b"")
    if used_bytes(shop) + new > settings.FILES_LIMIT_BYTES:
        sweep_files(shop)
    used = used_bytes(shop)
    if used + new > settings.FILES_LIMIT_BYTES:
        limit = megabytes(settings.FILES_LIMIT_BYTES)
        raise StoreFull(name=made.name, shop=shop.name, used=megabytes(used), limit=limit)


def used_bytes(shop: Shop) -> int:
    """What the shop's files take, thumbnails and trash included."""
    return Content.objects.filter(shop=shop).aggregate(used=Sum("size"))["used"] or 0


def megabytes(size: int) -> str:
    """`0.3 MB`, `12 MB`; what is little is not shown as nothing."""
    shown = size / MEGABYTE
    return f"{shown:.0f} MB" if shown >= 10 else f"{max(shown, 0.1 if size else 0):.1f} MB"


def describe_file(attachment: Attachment, *, shows: str, taken_on: date | None, caption: str) -> None:
    attachment.shows, attachment.taken_on, attachment.caption = shows, taken_on, caption
    attachment.save(update_fields=["shows", "taken_on", "caption"])


def remove_file(attachment: Attachment, person: Person | None) -> None:
    """One that lies there already keeps its day."""
    if attachment.trashed_at is None:
        put_in_trash(attachment, person)


def put_back_file(attachment: Attachment) -> None:
    take_out(attachment)


def unheld() -> Q:
    """Of no thing: whatever held it is gone for good."""
    holders = [relation.name for relation in Attachment._meta.related_objects if relation.one_to_one]
    return Q(**{f"{name}__isnull": True for name in holders})


@transaction.atomic
def sweep_files(shop: Shop) -> int:
    """Delete for good what has lain in the trash too long or is of nothing, and bytes that nobody uses.

    Returns how many files went.
    """
    Shop.objects.select_for_update(no_key=True).get(pk=shop.pk)
    files = Attachment.with_trash.filter(shop=shop)
    old = Q(trashed_at__lt=kept_since()) | (unheld() & Q(added_at__lt=timezone.now() - UNHELD_FOR))
    gone: Sequence[int] = list(files.filter(old).values_list("pk", flat=True))
    Attachment.with_trash.filter(pk__in=gone).delete()
    used = Attachment.with_trash.filter(shop=shop)
    Content.objects.filter(shop=shop).exclude(pk__in=used.values("content")).exclude(
        pk__in=used.filter(thumbnail__isnull=False).values("thumbnail")
    ).delete()
    return len(gone)
