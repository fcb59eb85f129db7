"""What is typed to release a revision."""

from django.utils.translation import gettext_lazy as _

from boardshop.boards.forms.edits import EditForm
from boardshop.gear.forms.fields import long_text


class ReleaseForm(EditForm):
    """A word on what is new, and why the board goes out with faults or unknowns where it has any."""

    note = long_text(_("What is new in it"))
    reason = long_text(_("Why it is released with these findings"))

    def __init__(self, data: object = None, *, asks_why: bool, **options: object) -> None:
        super().__init__(data, **options)  # type: ignore[arg-type]
        if not asks_why:
            del self.fields["reason"]
