"""Short identities on printed labels, read by eye in the dark or by a camera."""

import secrets
import unicodedata

ALPHABET = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
"""No 0/O, 1/I/L or U/V pair that could be misread."""

BOARD_LENGTH = 5
CABLE_LENGTH = 4
"""So that a cable's id is never taken for a board's code."""


def random_code(length: int) -> str:
    """Such as 7K3MA; uniqueness is the database's word."""
    return "".join(secrets.choice(ALPHABET) for _ in range(length))


def clean_code(text: str) -> str:
    """What somebody typed, as a code: capitals, no spaces or dashes, a U read as the V that it must be."""
    typed = (
        letter for letter in text.upper() if not (letter.isspace() or unicodedata.category(letter) == "Pd")
    )
    return "".join(typed).replace("U", "V")
