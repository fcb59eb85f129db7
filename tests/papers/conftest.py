import os
from typing import Any

import pytest

from boardshop.papers import pdf


@pytest.fixture(autouse=True)
def pango_or_skip(monkeypatch: pytest.MonkeyPatch) -> None:
    """Without Pango a test that comes to printing is skipped, and says what to install; in CI it fails."""
    load = pdf._load_weasyprint

    def load_or_skip() -> Any:
        try:
            return load()
        except pdf.PapersUnavailable as unavailable:
            if os.environ.get("CI"):
                raise
            pytest.skip(str(unavailable))

    monkeypatch.setattr(pdf, "_load_weasyprint", load_or_skip)
