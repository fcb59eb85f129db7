"""The code of a board."""

from boardshop.crew.codes import ALPHABET as ALPHABET
from boardshop.crew.codes import BOARD_LENGTH as LENGTH
from boardshop.crew.codes import clean_code as clean_code
from boardshop.crew.codes import random_code


def new_code() -> str:
    """A random code such as 7K3MA; uniqueness is the database's word."""
    return random_code(LENGTH)
