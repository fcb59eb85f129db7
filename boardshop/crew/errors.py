"""What a service says when it will not do something."""

from typing import Any

from django.utils.translation import gettext


class Refusal(Exception):
    """This cannot be done.

    The base of every named error of the services.
    A subclass's docstring is the sentence that a person reads; `%(name)s` in it takes the keyword `name`.
    `field` names the form field beside which the sentence belongs; blank stands for the whole form.
    """

    field = ""

    def __init__(self, *, field: str | None = None, **objects: Any) -> None:
        self.objects = objects
        if field is not None:
            self.field = field
        super().__init__(objects)

    def __str__(self) -> str:
        sentence = " ".join((type(self).__doc__ or "").split())
        return gettext(sentence) % self.objects if self.objects else gettext(sentence)


class ChangedMeanwhile(Refusal):
    """Somebody changed “%(name)s” after you opened it: %(changes)s. What you typed is still here; check it
    and keep it again.
    """
