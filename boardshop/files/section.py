"""What a page shows of the photos and files of one thing: templates/files/section.html draws it."""

from __future__ import annotations

from dataclasses import dataclass

from django.conf import settings
from django.db.models import FETCH_RAISE, Q, QuerySet

from boardshop.crew.models import Shop
from boardshop.crew.trash import kept_since
from boardshop.files.forms import UploadForm
from boardshop.files.models import Attachment
from boardshop.files.store import megabytes, used_bytes


@dataclass(frozen=True)
class FileSection:
    """`add` is where the form sends new ones, blank for who may not; `back` the page that it stands on."""

    kept: list[Attachment]
    trashed: list[Attachment]
    back: str
    add: str = ""
    form: UploadForm | None = None
    used: str = ""
    limit: str = ""


def listed(files: QuerySet[Attachment]) -> QuerySet[Attachment]:
    """Those to show, and those that can still be put back; none loads any bytes."""
    return files.filter(Q(trashed_at=None) | Q(trashed_at__gte=kept_since())).fetch_mode(FETCH_RAISE)


def file_section(
    files: QuerySet[Attachment] | list[Attachment], shop: Shop, *, back: str, add: str = "", ref: str = ""
) -> FileSection:
    """Two queries with the form, one without; `ref` is sent along with what is added."""
    rows = files if isinstance(files, list) else list(listed(files))
    kept = [one for one in rows if one.trashed_at is None]
    if not add:
        return FileSection(kept, [], back)
    trashed = [one for one in rows if one.trashed_at is not None]
    limit = megabytes(settings.FILES_LIMIT_BYTES)
    form = UploadForm(initial={"ref": ref, "shows": Attachment.Shows.KNOBS})
    return FileSection(kept, trashed, back, add, form, megabytes(used_bytes(shop)), limit)
