"""Every htmx element is a real link or form, and says what happens to requests that overtake each other.

htmx 4 keeps the first request that waits and drops later ones unless hx-sync says otherwise,
inherits only what is marked `:inherited`, and is silently stopped by a form's own validation.
"""

import pytest

from tests.house.markup import Element, elements, included, with_includes
from tests.house.tree import TEMPLATES, templates

REQUESTS = ("hx-get", "hx-post", "hx-put", "hx-patch", "hx-delete")


def faults(source: str) -> list[str]:
    found = []
    for element in elements(source):
        sends = [name.partition(":")[0] for name in element.attributes if name.partition(":")[0] in REQUESTS]
        if not sends:
            continue
        if not has_sync(element):
            found.append(f"{element} has {sends[0]} but no hx-sync of its own or inherited")
        if not works_without_scripts(element):
            found.append(f"{element} has {sends[0]} but no href or action that works without scripts")
        if element.tag == "form" and "hx-post" in sends and "novalidate" not in element.attributes:
            found.append(f"{element} needs novalidate: the server says what is wrong")
    return found


def has_sync(element: Element) -> bool:
    return "hx-sync" in element.attributes or any(
        "hx-sync:inherited" in ancestor.attributes for ancestor in element.ancestors
    )


def works_without_scripts(element: Element) -> bool:
    """A link with href, a form with action, or a field or button that belongs to such a form."""
    if (
        element.attributes.get("href")
        or element.attributes.get("action")
        or element.attributes.get("formaction")
    ):
        return True
    is_field = element.tag in ("input", "select", "textarea", "button", "fieldset")
    in_form = any(
        ancestor.tag == "form" and ancestor.attributes.get("action") for ancestor in element.ancestors
    )
    return is_field and (in_form or bool(element.attributes.get("form")))


SOURCES = {path.relative_to(TEMPLATES).as_posix(): path.read_text(encoding="utf-8") for path in templates()}
PIECES = {name for source in SOURCES.values() for name in included(source)}


@pytest.mark.parametrize("name", sorted(SOURCES.keys() - PIECES))
def test_template_works_without_scripts(name: str) -> None:
    """A piece that other templates take in is read in its place there: its form may be theirs."""
    assert faults(with_includes(SOURCES[name], SOURCES)) == []


FINE = '<form action="/a" hx-post="/a" hx-sync="this:replace" novalidate>'


@pytest.mark.parametrize(
    ("source", "count"),
    [
        (FINE, 0),
        (FINE.replace('hx-sync="this:replace"', ""), 1),
        (FINE.replace('action="/a"', ""), 1),
        (FINE.replace("novalidate", ""), 1),
        ('<form action="/a" hx-sync:inherited="this:replace"><input hx-post="/b"></form>', 0),
        ('<form action="/a" hx-sync="this:replace"><input hx-post="/b"></form>', 1),
        ('<div hx-get="/a" hx-sync="this:replace">', 1),
        ("<a href=\"{% url 'order' %}\" hx-get=\"{% url 'order' %}\" hx-sync='this:replace'>", 0),
        ('<button form="other" hx-post="/a" hx-sync="this:replace">', 0),
    ],
)
def test_each_fault_is_seen(source: str, count: int) -> None:
    assert len(faults(source)) == count


def test_a_piece_is_read_in_its_place() -> None:
    sources = {"row.html": '{# hx #}<button hx-post="/a" hx-sync="closest form:queue last">'}
    page = '<form action="/a">{% include "row.html" with one=two %}</form>'
    assert included(page) == {"row.html"}
    assert faults(with_includes(page, sources)) == []
    assert len(faults(sources["row.html"])) == 1
