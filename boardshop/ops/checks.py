"""System checks of the site's settings; each has an id and a hint."""

import difflib
import os
from typing import Any

from django.core.checks import CheckMessage, Warning, register

from boardshop import environment


@register
def check_unknown_settings(**kwargs: Any) -> list[CheckMessage]:
    return [
        Warning(
            f"{name} is set, but Boardshop has no such setting.",
            hint=_hint_for(name),
            id="boardshop.W001",
        )
        for name in environment.unknown_names(os.environ)
    ]


def _hint_for(name: str) -> str:
    close = difflib.get_close_matches(name, environment.KNOWN, n=1, cutoff=0.8)
    return f"Did you mean {close[0]}?" if close else "Settings: " + ", ".join(sorted(environment.KNOWN))
