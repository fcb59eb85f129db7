"""What is typed on a stage page."""

import re
from contextlib import suppress
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.http import Http404
from django.utils.translation import gettext_lazy as _

from boardshop.boards.access import get_board_for
from boardshop.boards.models import Board
from boardshop.crew.access import Visitor
from boardshop.crew.codes import CABLE_LENGTH, clean_code
from boardshop.gear.access import get_made_cable_for
from boardshop.gear.models import MadeCable

UNKNOWN_CODE = _(
    "No board of yours has the code “%(code)s”. It stands on the case label and beside the board's name."
)


STAGE_ADDRESS = re.compile(r"/s/([^/?#\s]+)", re.IGNORECASE)
"""What a camera reads off a label and somebody pastes: the code stands in it."""


class CodeForm(forms.Form):
    """A board's code as it is read off a label, the label's whole address, or the id on a made cable.

    Small letters, spaces and dashes do not matter.
    """

    code = forms.CharField(
        label=_("Board code"),
        max_length=200,
        error_messages={"required": _("Type the code on the label, such as 7K3MA.")},
        widget=forms.TextInput(
            {
                "autocomplete": "off",
                "autocapitalize": "characters",
                "autofocus": True,
                "spellcheck": "false",
                "enterkeyhint": "go",
            }
        ),
    )
    use_required_attribute = False

    def __init__(self, data: Any = None, *, person: Visitor) -> None:
        super().__init__(data)
        self.person = person
        self.board: Board | None = None
        self.cable: MadeCable | None = None
        """Where what was typed is a cable's id."""

    def clean_code(self) -> str:
        """Only a board that the person may see is found; there is none for anybody else."""
        code: str = self.cleaned_data["code"]
        address = STAGE_ADDRESS.search(code)
        if address is None and len(clean_code(code)) == CABLE_LENGTH:
            with suppress(Http404):
                self.cable = get_made_cable_for(self.person, code)
                return code
        try:
            self.board = get_board_for(self.person, address[1] if address else code)
        except Http404 as unknown:
            raise ValidationError(UNKNOWN_CODE, params={"code": code}) from unknown
        return code
