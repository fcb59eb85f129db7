"""How large a file may be: one limit and one wording of it, wherever a file is taken."""

from typing import Any

from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import UploadedFile
from django.utils.translation import gettext as _

MEGABYTE = 1024 * 1024


def limit_text() -> str:
    """`10 MB`, `0.5 MB`."""
    return f"{settings.UPLOAD_LIMIT_BYTES / MEGABYTE:.3g} MB"


def check_size(upload: "UploadedFile[Any]", way_out: str) -> None:
    """Raises ValidationError for a file above the limit; `way_out` is the sentence that ends it."""
    if (upload.size or 0) > settings.UPLOAD_LIMIT_BYTES:
        words = _("This file is larger than %(limit)s, which is the most that is accepted.")
        raise ValidationError(f"{words % {'limit': limit_text()}} {way_out}")
