"""What a browser would post from the gear pages."""

from typing import Any

from django.core.files.uploadedfile import SimpleUploadedFile
from django.test import Client
from django.urls import reverse


def management(prefix: str, count: int) -> dict[str, Any]:
    return {f"{prefix}-TOTAL_FORMS": count, f"{prefix}-INITIAL_FORMS": 0}


def rows(prefix: str, *fields: dict[str, Any]) -> dict[str, Any]:
    """Rows of a data sheet."""
    typed = management(prefix, len(fields))
    for n, row in enumerate(fields):
        typed |= {f"{prefix}-{n}-{name}": value for name, value in row.items()}
    return typed


def pedal(**fields: Any) -> dict[str, Any]:
    """A pedal's form without rows, unless they are given as `jacks=[...]` and the like."""
    typed = {"name": "Ember", "kind": "fuzz", "width": "73", "depth": "129", "turns": ["0"]}
    for prefix in ("jacks", "switches", "power"):
        typed |= rows(prefix, *fields.pop(prefix, []))
    return typed | fields


def supply(**fields: Any) -> dict[str, Any]:
    typed: dict[str, Any] = {"name": "Eight"}
    for prefix in ("outlets", "leads"):
        typed |= rows(prefix, *fields.pop(prefix, []))
    return typed | fields


def table(content: bytes | str, name: str = "table.csv") -> dict[str, Any]:
    content = content.encode() if isinstance(content, str) else content
    return {"file": SimpleUploadedFile(name, content, "text/csv")}


def dry_run(browser: Client, kind: str, content: bytes | str) -> Any:
    return browser.post(reverse("import-gear", args=[kind]), table(content))


def verdicts(answer: Any) -> list[str]:
    return [row.verdict for row in answer.context["plan"].rows]


def apply(browser: Client, kind: str, answer: Any) -> Any:
    """Press the button of a dry run."""
    carried = answer.context["form"]["carried"].value()
    return browser.post(reverse("apply-import", args=[kind]), {"carried": carried})
