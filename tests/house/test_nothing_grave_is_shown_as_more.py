"""A fold that ends in taking something away is not marked with the plus of “show more”."""

import re

from tests.house.tree import ROOT

FOLD = re.compile(r'<details class="(?P<classes>[^"]*\bfold\b[^"]*)".*?</details>', re.DOTALL)


def test_a_fold_with_a_grave_button_asks_first() -> None:
    folds = [
        fold for path in (ROOT / "templates").rglob("*.html") for fold in FOLD.finditer(path.read_text())
    ]
    grave = [fold["classes"].split() for fold in folds if "is-grave" in fold[0]]
    assert len(grave) >= 5
    assert all("asks-first" in classes for classes in grave)


def test_a_fold_that_asks_first_has_no_plus() -> None:
    css = (ROOT / "static" / "css" / "forms.css").read_text()
    assert "details.fold.asks-first > summary::before { content: none; }" in css
