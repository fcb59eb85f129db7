"""Functions over arrays that are compiled to machine code at their first call, and kept compiled on disk."""

from collections.abc import Callable
from typing import Any

import numba

WHOLE_NUMBERS_OVER_ARRAYS: dict[str, Any] = {"nogil": True, "_nrt": False}
"""They run beside other threads, and make no arrays of their own.

Without counting references to the arrays, which nothing here needs, the search was seven times faster.
"""


def compiled[**P, R](function: Callable[P, R]) -> Callable[P, R]:
    """The function compiled.

    Machine code is kept beside the source, or in the user's cache where that cannot be written, so that a
    machine compiles once.  Where nothing can be written it compiles in every process.
    """
    try:
        made: Callable[P, R] = numba.njit(cache=True, **WHOLE_NUMBERS_OVER_ARRAYS)(function)
    except RuntimeError:
        made = numba.njit(**WHOLE_NUMBERS_OVER_ARRAYS)(function)
    return made


def inlined[**P, R](function: Callable[P, R]) -> Callable[P, R]:
    """The same for what is called from the inside of a loop, and becomes a part of its caller."""
    made: Callable[P, R] = numba.njit(forceinline=True, **WHOLE_NUMBERS_OVER_ARRAYS)(function)
    return made
