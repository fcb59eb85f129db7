"""What the garbage collector need not look at."""

import gc

from django.urls import get_resolver


def keep_what_is_loaded() -> None:
    """Code and tables that a server loads at its start stay until its end.

    Left to the collector they are looked through again with every full collection, a quarter of a million
    objects: that held up one edit in twenty for a fifth of a second.
    """
    # Brings in every view, and with them the core.
    len(get_resolver().url_patterns)
    gc.collect()
    gc.freeze()
