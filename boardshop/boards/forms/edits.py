"""What every form that edits a board has in common."""

import json
from collections.abc import Iterable
from typing import Any

from django import forms
from django.http import QueryDict
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

type Choices = list[tuple[Any, Any]]

NOT_RECORDED = ("", _("not recorded"))
YES, NO = _("yes"), _("no")
NOTHING = _("nothing")


BASE = "was"
"""The hidden field with what the form showed when its page was loaded."""


class EditForm(forms.Form):
    """Carries the edit number that the person's page showed.

    `key` names the form on its page: its fields' ids begin with it, and a page that is drawn again after a
    refused edit puts the typed form back in the place of that name.
    """

    edit = forms.IntegerField(
        min_value=0,
        widget=forms.HiddenInput,
        error_messages=dict.fromkeys(
            ("required", "invalid", "min_value"),
            _("This form does not say which state of the board it was made on; reload the page."),
        ),
    )
    use_required_attribute = False

    def __init__(self, data: Any = None, *, key: str, **options: Any) -> None:
        super().__init__(data, auto_id=f"{key}-%s", **options)
        self.key = key
        self.now: dict[str, str] = {}
        """After a conflict: what stands there now, for each field that was typed differently."""
        self.taken: dict[str, list[str]] = {}
        """After a conflict: fields that the person left alone, as somebody else changed them."""
        self.base = str(data.get(BASE, "")) if data else ""
        """What the fields showed when the form's page was loaded, as it was posted: texts in JSON."""

    @property
    def seen(self) -> int:
        """The edit number that was posted."""
        return int(self.cleaned_data["edit"])

    def typed(self, *names: str) -> dict[str, Any]:
        """The cleaned values of these fields, of all but the edit number when none is named."""
        wanted = names or [name for name in self.fields if name != "edit"]
        return {name: self.cleaned_data[name] for name in wanted}

    def shown(self) -> str:
        """What the fields show, for the form to carry along; blank where a single field says it all."""
        if self.is_bound:
            return self.base
        shown = {bound.name: _text(bound.value()) for bound in self if bound.name != "edit"}
        return _as_base(shown) if len(shown) > 1 else ""

    def compare_with(self, fresh: "EditForm") -> None:
        """Set what was typed against what stands there now, by a freshly made form of the same key.

        A field that the person left as the page showed it takes what stands there now, so that sending the
        form again undoes nobody's work; one that they changed keeps what they typed and notes the other.
        """
        left, data = _read_base(self.base), QueryDict(mutable=True)
        data.update(self.data)
        for name in [name for name in self.fields if name != "edit" and name in fresh.fields]:
            shown, typed = _text(fresh[name].value()), _text(self[name].value())
            if shown == typed:
                continue
            if left.get(name) == typed:
                self.taken[name] = _as_posted(fresh, name)
                data.setlist(name, self.taken[name])
            else:
                self.now[name] = _words(fresh, name)
        self.base, self.data = fresh.shown(), data


class WordField(forms.ChoiceField):
    """A word of a closed list; blank = not recorded, or what `blank` says."""

    def __init__(self, words: Iterable[str], *, blank: Any = NOT_RECORDED[1], **options: Any) -> None:
        options.setdefault("required", False)
        choices = [(word, word) for word in words]
        super().__init__(choices=choices if blank is None else [("", blank), *choices], **options)


class FlagField(forms.TypedChoiceField):
    """Yes, no, or None where nobody recorded it."""

    def __init__(self, *, yes: Any = YES, no: Any = NO, **options: Any) -> None:
        super().__init__(
            choices=[NOT_RECORDED, ("true", yes), ("false", no)],
            coerce=lambda word: word == "true",
            empty_value=None,
            required=False,
            **options,
        )

    def prepare_value(self, value: Any) -> Any:
        return {True: "true", False: "false", None: ""}.get(value, value)


class OfferedField(forms.CharField):
    """Text chosen from a list whose members the service checks; the page offers them when it is drawn.

    So an edit need not read the whole board before it knows what was posted.
    """

    def __init__(self, **options: Any) -> None:
        super().__init__(widget=forms.Select, **({"max_length": 80} | options))

    def offer(self, choices: Choices, *, blank: Any = None) -> None:
        assert isinstance(self.widget, forms.Select)
        self.widget.choices = [("", _("choose one") if blank is None else blank), *choices]


class WholeField(forms.IntegerField):
    """A whole number from zero on, as the board file allows it; None where nobody recorded it."""

    LARGEST = 1_000_000_000

    def __init__(self, *, unit: str = "", least: int = 0, most: int = LARGEST, **options: Any) -> None:
        options = {"required": False} | options
        super().__init__(widget=forms.TextInput({"inputmode": "numeric", "autocomplete": "off"}), **options)
        self.unit, self.least, self.most = unit, least, most

    def run_validators(self, value: Any) -> None:
        """A number out of range is refused with the range, and with the label that stands on the page."""
        if value is not None and not self.least <= value <= self.most:
            label = f"{str(self.label).partition(',')[0]} {self.unit}".strip()
            words = _now("%(label)s goes from %(least)s to %(most)s; %(value)s is beyond that.")
            limits = {"least": self.least, "most": self.most}
            raise forms.ValidationError(words % {"label": label, "value": value, **limits})
        super().run_validators(value)


def _text(value: Any) -> str:
    """With the line ends that a page shows, not those that a browser posts."""
    return "" if value is None else str(value).replace("\r\n", "\n")


def _as_base(texts: dict[str, str]) -> str:
    return json.dumps(texts, ensure_ascii=False, separators=(",", ":"))


def _read_base(text: str) -> dict[str, str]:
    """Empty for what no page of ours sent: then every field counts as typed."""
    try:
        found = json.loads(text)
    except (ValueError, RecursionError):
        return {}
    return found if isinstance(found, dict) else {}


def _as_posted(form: EditForm, name: str) -> list[str]:
    """The values that a browser would send for what the field shows."""
    value = form[name].value()
    if isinstance(form.fields[name].widget, forms.CheckboxInput):
        return ["on"] if value else []
    return [_text(value)]


def _words(form: EditForm, name: str) -> str:
    """What a fresh form shows in this field, as a person reads it."""
    field, value = form.fields[name], _text(form[name].value())
    choices: Choices = list(getattr(field, "choices", ()))
    return next((str(words) for choice, words in choices if _text(choice) == value), value or str(NOTHING))
