"""The file of a table, and the dry run that comes back to be applied."""

from typing import Any

from django import forms
from django.conf import settings
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import UploadedFile
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

MEGABYTE = 1024 * 1024


def limit_bytes() -> int:
    """Half of what the site accepts: the file comes back inside a form, which makes it longer."""
    return int(settings.UPLOAD_LIMIT_BYTES) // 2


def limit_text() -> str:
    return f"{limit_bytes() / MEGABYTE:.1f} MB"


class TableForm(forms.Form):
    file = forms.FileField(
        label=_("Table (CSV)"),
        allow_empty_file=True,
        widget=forms.ClearableFileInput({"accept": ".csv,.tsv,.txt,text/csv"}),
        error_messages={"required": _("Choose the file first."), "invalid": _("Choose the file first.")},
    )
    use_required_attribute = False

    def clean_file(self) -> bytes:
        file: UploadedFile[Any] = self.cleaned_data["file"]
        if (file.size or 0) > limit_bytes():
            raise ValidationError(
                gettext(
                    "This file has %(size)s MB; %(limit)s are accepted. Split it, and bring it in "
                    "piece by piece."
                )
                % {"size": f"{(file.size or 0) / MEGABYTE:.1f}", "limit": limit_text()}
            )
        return bytes(file.read())


class ApplyForm(forms.Form):
    carried = forms.CharField(widget=forms.HiddenInput, strip=False)
    use_required_attribute = False
