"""Every page, found by walking the addresses, in every theme, at a desk and on a phone.

axe-core finds nothing, nothing is lost at 360 px, and what a finger presses is 44 px high.
A new page is in this test as soon as it has an address that the demo can fill in.
"""

from collections.abc import Iterator
from itertools import product
from typing import Any

from django.apps import apps
from django.test import Client
from django.urls import URLPattern, URLResolver, get_resolver, reverse
from playwright.sync_api import Page

from boardshop.bench.cut_work import Asked, gather_cuts
from boardshop.bench.services.cut_jobs import book_cuts
from boardshop.boards.models import Board
from boardshop.crew.models import Person
from boardshop.gear.models import MadeCable
from boardshop.ops.demo.load import USERNAME, load_demo
from tests.boards.searches import PLACING, answered
from tests.chromium import AXE, PHONE, InBrowser, overflows_sideways

NO_SUCH_PAGE, USED_LINK = "/no-such-page", "/set-up/no-such-token"
PARTS = ("P1", "P2", "W1", "W2", "S1", "G1", "A1", "P1.DC", "S1.1", "P2.IN", "1", "no-such-token")
TARGETS = "button, select, textarea, summary, input:not([type=hidden]), .button, .tabs a, .places a"
TARGET_PX = 44
STAGE_TARGET_PX = 45
"""12 mm at 96 px to the inch, rounded down."""
OTHER_THEMES = ("dark", "night")
"""Themes differ in colours alone, so only the contrast is looked at again."""


def addresses(patterns: list[Any] | None = None) -> Iterator[tuple[str, tuple[str, ...]]]:
    """Name and parameter names of every named address."""
    for pattern in get_resolver().url_patterns if patterns is None else patterns:
        if isinstance(pattern, URLResolver):
            yield from addresses(pattern.url_patterns)
        elif isinstance(pattern, URLPattern) and pattern.name:
            yield pattern.name, tuple(pattern.pattern.converters)


def candidates(parameter: str) -> list[Any]:
    """What may stand for a parameter: a code of a board or cable, a part's ref, or the key of any row."""
    if parameter == "code":
        return [model.objects.order_by("pk").first().code for model in (Board, MadeCable)]
    if parameter != "pk" and not parameter.endswith("_pk"):
        return list(PARTS)
    ours = [
        model
        for app in ("crew", "gear", "boards", "bench")
        for model in apps.get_app_config(app).get_models()
    ]
    firsts = [model._default_manager.order_by("pk").first() for model in ours]
    return sorted({row.pk for row in firsts if row is not None and isinstance(row.pk, int)})


def paths(name: str, parameters: tuple[str, ...]) -> Iterator[str]:
    for values in product(*map(candidates, parameters)):
        try:
            yield reverse(name, kwargs=dict(zip(parameters, values, strict=True)))
        except Exception:
            continue


def is_page(answer: Any) -> bool:
    """Also one that fails: it would have been a page."""
    is_html = answer.headers.get("Content-Type", "").startswith("text/html")
    return answer.status_code == 500 or (answer.status_code == 200 and is_html)


def find_pages(person: Person) -> dict[str, tuple[str, bool]]:
    """Name -> path and whether one is signed in, of every address that answers GET with a page."""
    signed_in, anybody = Client(raise_request_exception=False), Client(raise_request_exception=False)
    signed_in.force_login(person)
    found: dict[str, tuple[str, bool]] = {}
    for name, parameters in addresses():
        tried = list(paths(name, parameters))
        for path, (browser, knows) in product(tried, ((signed_in, True), (anybody, False))):
            if name not in found and is_page(browser.get(path)):
                found[name] = (path, knows)
    return found


def axe_faults(page: Page, *rules: str) -> list[str]:
    options = {"runOnly": list(rules)} if rules else {}
    found = page.evaluate("async (options) => (await axe.run(options)).violations", options)
    return [f"{fault['id']}: {len(fault['nodes'])} x {fault['nodes'][0]['html'][:160]}" for fault in found]


def small_targets(page: Page) -> list[str]:
    """What is too low for a finger; a box that is ticked counts with its label."""
    least = STAGE_TARGET_PX if page.locator("body.stage").count() else TARGET_PX
    return page.evaluate(
        """([targets, least]) => [...document.querySelectorAll(targets)]
            .filter((one) => one.checkVisibility({visibilityProperty: true}) && one.offsetHeight > 1)
            .map((one) => [...(['checkbox', 'radio'].includes(one.type) ? one.labels : []), one]
                .reduce((most, other) => other.offsetHeight > most.offsetHeight ? other : most))
            .map((one) => [one.getBoundingClientRect().height, one.outerHTML.slice(0, 120)])
            .filter(([height]) => height < least - 0.5)
            .map(([height, what]) => `${height} px: ${what}`)""",
        [TARGETS, least],
    )


def look(page: Page, path: str, is_phone: bool) -> list[str]:
    """All that is wrong with one page."""
    if is_phone:
        session = page.context.new_cdp_session(page)
        session.send("Emulation.setTouchEmulationEnabled", {"enabled": True, "maxTouchPoints": 5})
    answer = page.goto(path)
    if answer.status >= 500:
        return [f"answers {answer.status}"]
    page.evaluate(AXE.read_text(encoding="utf-8"))
    faults = axe_faults(page)
    for theme in OTHER_THEMES:
        page.evaluate("(theme) => { document.documentElement.dataset.theme = theme; }", theme)
        faults += [f"{theme}: {fault}" for fault in axe_faults(page, "color-contrast")]
    if overflows_sideways(page):
        faults.append("wider than the window")
    return faults + (small_targets(page) if is_phone else [])


def _book_cuts(person: Person) -> str:
    """The first board's cuts, which are no part of the demo; the code of the second, still to be cut."""
    first, second = Board.objects.order_by("pk")[:2]
    work = gather_cuts(first.shop, Asked([first]))
    book_cuts(work, work.seen, person)
    return second.code


def look_at_every_page(in_browser: InBrowser, size: tuple[int, int]) -> None:
    """Fails with all that is wrong anywhere, page by page."""
    load_demo()
    # A search that was made is no part of the demo.
    answered(Board.objects.order_by("pk").first(), PLACING)
    person = Person.objects.get(username=USERNAME)
    code = _book_cuts(person)
    pages = find_pages(person)
    assert {"boards", "sign-in", "clients"} <= pages.keys()
    visits = {"no such page": (NO_SUCH_PAGE, True), "used link": (USED_LINK, False), **pages}
    visits["cut plan of a board"] = (reverse("cut-plan", query={"board": code}), True)

    def walk(names: list[str]) -> Any:
        def steps(page: Page) -> dict[str, list[str]]:
            seen = {name: look(page, visits[name][0], size == PHONE) for name in names}
            return {name: faults for name, faults in seen.items() if faults}

        return steps

    known = [name for name, (_, knows) in visits.items() if knows]
    open_to_all = [name for name in visits if name not in known]
    faults = in_browser(walk(known), person=person, size=size, expect_errors=True)
    faults |= in_browser(walk(open_to_all), size=size, expect_errors=True)
    assert not faults, "\n".join(f"{name}: {fault}" for name, found in faults.items() for fault in found)
