"""The content security policy allows no inline script or style, so no template may carry one."""

import re
from pathlib import Path

import pytest
from django.conf import settings

from tests.house.markup import elements
from tests.house.tree import CODE, modules, shown, templates

FOR_PAPER = ("papers",)
STYLE_IN_CODE = re.compile(r"<[^>]*\sstyle=|attrs\b.*[\"']style[\"']")


def faults(source: str) -> list[str]:
    """Inline styles and scripts, handlers, and addresses that run code."""
    found = []
    for element in elements(source):
        names = element.attributes
        found += [f"{element} has {name}" for name in names if name == "style" or name.startswith("on")]
        found += [f"{element} has {name}" for name in names if name.startswith("hx-on")]
        found += [f"{element} runs code in {name}" for name in names if _runs_code(names[name])]
        if element.tag == "style" or (element.tag == "script" and not names.get("src")):
            found.append(f"{element} is inline")
    return found


def _runs_code(value: str) -> bool:
    return value.strip().lower().startswith(("javascript:", "js:"))


def is_for_paper(path: Path) -> bool:
    """A PDF is made by a program that knows no policy, and its pages need @page rules."""
    return any(part in FOR_PAPER for part in path.parts)


@pytest.mark.parametrize("path", [path for path in templates() if not is_for_paper(path)], ids=shown)
def test_template_has_nothing_inline(path: Path) -> None:
    assert faults(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize("path", modules(CODE), ids=shown)
def test_markup_made_in_code_has_no_style_attribute(path: Path) -> None:
    assert STYLE_IN_CODE.findall(path.read_text(encoding="utf-8")) == []


@pytest.mark.parametrize(
    "source",
    [
        '<p style="color: red">',
        "<svg><g style='fill: none'/></svg>",
        "<style>p { color: red }</style>",
        "<script>go()</script>",
        '<button onclick="go()">',
        '<form hx-on:htmx:after:swap="go()">',
        '<a href="javascript:go()">',
        "<div hx-vals='js:{now: Date.now()}'>",
        '<p {% if wide %}style="width: {{ share }}%"{% endif %}>',
    ],
)
def test_an_inline_part_is_seen(source: str) -> None:
    assert len(faults(source)) == 1


@pytest.mark.parametrize("code", ["f'<g style=\"{rule}\">'", 'TextInput(attrs={"style": "width: 4em"})'])
def test_a_style_made_in_code_is_seen(code: str) -> None:
    assert STYLE_IN_CODE.search(code)


def test_scripts_and_styles_from_files_are_let_through() -> None:
    source = '{# <style> #}<script src="{% static \'a.js\' %}"></script><p class="{{ one }}" data-once>'
    assert faults(source) == []


def test_the_policy_allows_nothing_unsafe() -> None:
    words = [word for sources in settings.SECURE_CSP.values() for word in sources]
    assert [word for word in words if "unsafe" in word or word in ("*", "https:", "http:")] == []
    assert settings.SECURE_CSP["script-src"] == settings.SECURE_CSP["style-src"] == ["'self'"]
