"""What a text that people read and print may hold."""

from django.core.exceptions import ValidationError
from django.utils.translation import gettext

DIRECTION_SIGNS = frozenset(
    chr(code) for code in (0x061C, 0x200E, 0x200F, *range(0x202A, 0x202F), *range(0x2066, 0x206A))
)
"""Unicode's property Bidi_Control (PropList.txt, UAX #9): invisible, and what is beside them turns round."""


def refuse_direction_signs(text: str) -> None:
    """A form field's validator: a name with such a sign reads as another one on screens and papers.

    Letters that are written from right to left need none of them in a name.  Raises ValidationError.
    """
    found = next((sign for sign in text if sign in DIRECTION_SIGNS), None)
    if found is not None:
        words = gettext(
            "This holds an invisible sign (U+%(code)04X) that turns the direction of the text; "
            "type it by hand instead of pasting it."
        )
        raise ValidationError(words % {"code": ord(found)})
