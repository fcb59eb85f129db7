"""Every memory of the program, to be emptied: what is computed then is computed from nothing."""

import sys
from functools import _lru_cache_wrapper
from typing import Any

LASTING = ("boardshop.boards.drawing.lettering",)
"""The widths of the type, which no edit changes and which take long to read."""


def forget_all(package: str = "boardshop") -> int:
    """How many memories were emptied, those of functions within functions included."""
    found = {id(memory): memory for memory in _memories(package)}
    for memory in found.values():
        memory.cache_clear()
    if package == "boardshop":
        from boardshop.boards.templatetags.remembered import MEMORY

        MEMORY.clear()
    return len(found)


def _memories(package: str) -> list[Any]:
    modules = [
        module for name, module in sys.modules.items() if name.startswith(package) and name not in LASTING
    ]
    values = [value for module in modules for value in vars(module).values()]
    inside = [
        cell.cell_contents
        for value in values
        for cell in getattr(value, "__closure__", None) or ()
        if isinstance(cell.cell_contents, _lru_cache_wrapper)
    ]
    return [*inside, *(value for value in values if isinstance(value, _lru_cache_wrapper))]
