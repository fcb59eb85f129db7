"""The shape of what people type about a whole board."""

import secrets
from hashlib import sha256
from typing import Any

from django import forms
from django.core.files.uploadedfile import UploadedFile
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from boardshop.boards.models import Board
from boardshop.core.plan import Frame
from boardshop.crew.models import Client, Shop
from boardshop.crew.plain_text import refuse_direction_signs
from boardshop.crew.uploads import check_size, limit_text
from boardshop.gear.forms.fields import LengthField, use_unit
from boardshop.gear.models import FrameModel

MOST_WORDS = 8


class FindForm(forms.Form):
    """The search of the board list."""

    find = forms.CharField(
        label=_("Find a board"),
        required=False,
        max_length=100,
        widget=forms.TextInput({"type": "search", "autocomplete": "off", "enterkeyhint": "search"}),
    )

    def clean_find(self) -> str:
        """Each word is looked for in many places, so their number is bounded."""
        text = str(self.cleaned_data["find"])
        if len(text.split()) > MOST_WORDS:
            raise forms.ValidationError(
                _("Look for at most %(most)s words at once."), params={"most": MOST_WORDS}
            )
        return text


def new_token() -> str:
    return secrets.token_urlsafe(16)


class NamedForm(forms.Form):
    """A new board's name and whose it is; `once` tells two forms from one that was sent twice."""

    name = forms.CharField(label=_("Name"), max_length=80, validators=[refuse_direction_signs])
    client = forms.ModelChoiceField(
        label=_("Artist or customer"),
        queryset=Client.objects.none(),
        required=False,
        empty_label=_("nobody yet"),
    )
    once = forms.CharField(required=False, max_length=40, initial=new_token, widget=forms.HiddenInput)
    use_required_attribute = False

    def __init__(self, data: Any = None, *, shop: Shop, **options: Any) -> None:
        super().__init__(data, **options)
        clients = self.fields["client"]
        assert isinstance(clients, forms.ModelChoiceField)
        clients.queryset = Client.objects.filter(shop=shop)

    def begun_by(self) -> str:
        """The same for this form sent twice, another one once something else is typed; blank without a token.

        So somebody who goes back and types another name begins another board.
        """
        if not self.cleaned_data["once"]:
            return ""
        typed = [(name, getattr(value, "pk", value)) for name, value in sorted(self.cleaned_data.items())]
        return sha256(repr((type(self).__name__, typed)).encode()).hexdigest()


class BeginForm(NamedForm):
    """A board from nothing: on a frame of the catalogue, or on one whose size is typed."""

    frame = forms.ModelChoiceField(
        label=_("Frame"),
        queryset=FrameModel.objects.none(),
        required=False,
        empty_label=_("one whose size is typed here"),
    )
    width = LengthField(label=_("Width"), required=False, least=1)
    depth = LengthField(label=_("Depth"), required=False, least=1)

    def __init__(self, data: Any = None, *, shop: Shop, **options: Any) -> None:
        super().__init__(data, shop=shop, auto_id="begin-%s", **options)
        frames = self.fields["frame"]
        assert isinstance(frames, forms.ModelChoiceField)
        frames.queryset = FrameModel.objects.filter(shop=shop)
        use_unit(self, shop.length_unit)

    def clean(self) -> dict[str, Any]:
        typed = super().clean() or {}
        if not typed.get("frame"):
            for name in ("width", "depth"):
                if typed.get(name) is None and name not in self.errors:
                    self.add_error(name, _("Choose a frame of the catalogue, or type its width and depth."))
        return typed

    def typed_frame(self) -> Frame:
        """The size as typed; only where no frame was chosen."""
        return Frame(self.cleaned_data["width"], self.cleaned_data["depth"])


class ImportForm(NamedForm):
    """A board from a board file."""

    board_file = forms.FileField(
        label=_("Board file"),
        widget=forms.FileInput({"accept": ".json,application/json"}),
        error_messages={
            "required": _("Choose a board file: a JSON document that says “boardshop-board”."),
            "empty": _("This file is empty; choose a board file."),
        },
    )
    models_only = forms.BooleanField(
        label=_("Models only"),
        required=False,
        help_text=_("For a second board of the same gear: serials and measured draws are left out."),
    )
    field_order = ("board_file", "name", "client", "models_only")

    def __init__(self, data: Any = None, *, shop: Shop, **options: Any) -> None:
        super().__init__(data, shop=shop, auto_id="import-%s", **options)
        self.fields["name"].required = False
        self.fields["name"].help_text = _("Blank = the name in the file.")
        self.fields["board_file"].help_text = _("At most %(limit)s.") % {"limit": limit_text()}

    def clean_board_file(self) -> bytes:
        upload = self.cleaned_data["board_file"]
        assert isinstance(upload, UploadedFile)
        check_size(upload, _now("A board file is far smaller, so it is hardly one."))
        content: bytes = upload.read()
        return content


class CopyForm(NamedForm):
    """A board as a copy of another."""

    board = forms.ModelChoiceField(
        label=_("Copy of"), queryset=Board.objects.none(), empty_label=_("choose one")
    )
    field_order = ("board", "name", "client")

    def __init__(self, data: Any = None, *, shop: Shop, **options: Any) -> None:
        super().__init__(data, shop=shop, auto_id="copy-%s", **options)
        boards = self.fields["board"]
        assert isinstance(boards, forms.ModelChoiceField)
        boards.queryset = Board.objects.filter(shop=shop).select_related("shop")
