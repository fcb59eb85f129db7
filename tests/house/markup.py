"""Templates read as markup: Django's own tags are taken out first, wherever they stand."""

import re
from dataclasses import dataclass, field
from html.parser import HTMLParser

VOID = {"area", "base", "br", "col", "embed", "hr", "img", "input", "link", "meta", "source", "track", "wbr"}
INCLUDE = re.compile(r"""\{%\s*include\s+["']([^"']+)["'][^%]*%\}""")
COMMENTS = re.compile(r"\{#.*?#\}|\{% comment %\}.*?\{% endcomment %\}|<!--.*?-->", re.DOTALL)


@dataclass
class Element:
    tag: str
    attributes: dict[str, str]
    line: int
    ancestors: list["Element"] = field(default_factory=list)

    def __str__(self) -> str:
        return f"line {self.line}: <{self.tag}>"


class _Reader(HTMLParser):
    def __init__(self) -> None:
        super().__init__()
        self.open: list[Element] = []
        self.found: list[Element] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        attributes = {name: value or "" for name, value in attrs}
        element = Element(tag, attributes, self.getpos()[0], list(self.open))
        self.found.append(element)
        if tag not in VOID:
            self.open.append(element)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        if tag not in VOID:
            self.open.pop()

    def handle_endtag(self, tag: str) -> None:
        # Branches of a template may open a tag twice and close it once: close the nearest one.
        for index in range(len(self.open) - 1, -1, -1):
            if self.open[index].tag == tag:
                del self.open[index:]
                return


def _blank(match: re.Match[str]) -> str:
    return "\n" * match[0].count("\n")


def elements(source: str) -> list[Element]:
    """Every element with its attributes and its open ancestors; {{ }} counts as the text `value`."""
    source = COMMENTS.sub(_blank, source)
    source = re.sub(r"\{\{.*?\}\}", "value", source, flags=re.DOTALL)
    # A tag in an attribute's value stands for some text: `href="{% url 'x' %}"` is not empty.
    source = re.sub(r"=(['\"])\{%.*?%\}", r"=\1value", source, flags=re.DOTALL)
    source = re.sub(r"\{%.*?%\}", _blank, source, flags=re.DOTALL)
    reader = _Reader()
    reader.feed(source)
    return reader.found


def included(source: str) -> set[str]:
    """The names of the templates that this one takes in."""
    return set(INCLUDE.findall(COMMENTS.sub("", source)))


def with_includes(source: str, sources: dict[str, str]) -> str:
    """The template with the templates it takes in written out, each in its place."""

    def taken_in(match: re.Match[str]) -> str:
        return with_includes(sources.get(match[1], ""), sources)

    return INCLUDE.sub(taken_in, COMMENTS.sub(_blank, source))
