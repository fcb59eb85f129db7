"""Sending photos and files, and saying what they show."""

from typing import Any

from django import forms
from django.conf import settings
from django.core.files.uploadedfile import UploadedFile
from django.utils.translation import gettext_lazy as _

from boardshop.crew.uploads import limit_text
from boardshop.files.models import Attachment

# Named one by one, a phone offers camera and gallery alike and hands its own format over as JPEG.
ACCEPTED = "image/jpeg,image/png,image/webp,image/gif,application/pdf"
MOST_AT_ONCE = 20


class SeveralFiles(forms.ClearableFileInput):
    allow_multiple_selected = True


class SeveralFilesField(forms.FileField):
    """A list of files, at least one; an empty one is refused by name with the rest."""

    def clean(self, data: Any, initial: Any = None) -> list[UploadedFile[Any]]:
        files = [one for one in (data if isinstance(data, list | tuple) else [data]) if one]
        if not files:
            raise forms.ValidationError(_("Choose the photos or files first."))
        if len(files) > MOST_AT_ONCE:
            raise forms.ValidationError(_("Send at most %(most)s at once.") % {"most": MOST_AT_ONCE})
        return files


class UploadForm(forms.Form):
    sent = SeveralFilesField(label=_("Photos or files"), widget=SeveralFiles({"accept": ACCEPTED}))
    shows = forms.ChoiceField(label=_("What they show"), choices=Attachment.Shows.choices)
    ref = forms.CharField(max_length=40, required=False, widget=forms.HiddenInput)
    use_required_attribute = False

    def __init__(self, data: Any = None, files: Any = None, *, initial: Any = None) -> None:
        super().__init__(data, files, auto_id="file-%s", initial=initial)
        both = {"one": limit_text(), "all": f"{settings.UPLOAD_LIMIT_BYTES * 2 // 1024 // 1024} MB"}
        self.fields["sent"].help_text = (
            _("JPEG, PNG, WebP, GIF or PDF; up to %(one)s each and %(all)s at once.") % both
        )


class DescribeForm(forms.ModelForm[Attachment]):
    use_required_attribute = False

    class Meta:
        model = Attachment
        fields = ("shows", "taken_on", "caption")
        widgets = {"taken_on": forms.DateInput({"type": "date"}, format="%Y-%m-%d")}
