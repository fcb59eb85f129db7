"""The file of a table, and the dry run that comes back to be applied."""

from typing import Any

from django import forms
from django.core.files.uploadedfile import UploadedFile
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from boardshop.crew.once import once_field
from boardshop.crew.uploads import check_size


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
        check_size(file, gettext("Split it, and bring it in piece by piece."))
        return bytes(file.read())


class ApplyForm(forms.Form):
    carried = forms.CharField(widget=forms.HiddenInput, strip=False)
    once = once_field()
    use_required_attribute = False
