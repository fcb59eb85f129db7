"""Who gets what at every address: one table, walked by five people with GET and with an empty POST.

The demo supplies the things that an address names; each request is taken back before the next one.
An empty POST tells the guard from the form behind it: 403 and 404 are the guard's, 405 says that the address
takes no POST, 422 is the form's word that something is missing.
The statuses mean what RFC 9110 says; who may do what is said by the roles on the page of people.
"""

import pytest
from django.db import transaction
from django.urls import get_resolver

from boardshop.crew.models import Person
from tests.factories import make_person, make_shop
from tests.house.test_every_address_is_guarded import OWN, Walk, browser_of
from tests.house.test_every_address_is_guarded import walk as walk
from tests.house.test_urls_are_tested import patterns

pytestmark = pytest.mark.django_db

NAMES = {name or "": "/" + route for route, name in patterns(get_resolver().url_patterns)}
WHO = ("owner", "editor", "viewer", "stranger", "nobody")
"""The order of the cells; a stranger owns another shop, nobody is signed out."""
PAPERS = {"build-sheet", "case-label", "cut-sheet", "first-power-sheet"}
"""On a machine that cannot draw a PDF these answer 503 instead of 200."""

# GET of the five, POST of the five, the addresses.
TABLE = """
200 200 200 200 200  405 405 405 405 405  healthz
302 302 302 302 200  302 302 302 302 422  sign-in account_login
302 302 302 302 302  302 302 302 302 302  type-code mfa_authenticate
302 302 302 302 302  302 302 302 302 422  sign-in-by-passkey
200 200 200 200 200  422 422 422 422 422  forgot-password
405 405 405 405 405  400 400 400 400 400  set-theme
410 410 410 410 410  410 410 410 410 410  set-up
404 404 404 404 404  404 404 404 404 404  join let-in

# One's own: a stranger gets as much as an owner, of what is theirs.
405 405 405 405 302  302 302 302 302 302  sign-out
200 200 200 200 302  422 422 422 422 302  change-password add-shop leave-shop
405 405 405 405 302  404 404 404 404 302  use-shop
200 200 200 200 302  405 405 405 405 302  account
200 200 200 200 302  422 422 422 422 302  confirm-password account_reauthenticate
# Without an authenticator app or a passkey of one's own these lead to the password, or are not there.
302 302 302 302 302  302 302 302 302 302  confirm-code mfa_reauthenticate
302 302 302 302 302  302 302 302 302 302  confirm-passkey mfa_reauthenticate_webauthn
302 302 302 302 302  302 302 302 302 302  add-authenticator mfa_activate_totp renew-recovery-codes
302 302 302 302 302  302 302 302 302 302  add-passkey
404 404 404 404 302  404 404 404 404 302  remove-authenticator mfa_deactivate_totp
404 404 404 404 302  404 404 404 404 302  rename-passkey remove-passkey
404 404 404 404 302  405 405 405 405 302  recovery-codes
405 405 405 405 302  404 404 404 404 302  end-device
405 405 405 405 302  302 302 302 302 302  end-other-devices
# This server sends no mail in tests.
404 404 404 404 302  404 404 404 404 302  change-mail confirm-mail
302 302 302 302 302  405 405 405 405 302  all-boards
200 200 200 200 302  405 405 405 405 302  boards find-board gear clients people trash
200 200 200 200 302  405 405 405 405 302  cut-plan cut-jobs
200 200 200 200 302  405 405 405 405 302  kinds explain-kind order-rules power-rules cable-rules
200 200 200 200 302  405 405 405 405 302  export-gear download-template
200 200 200 200 302  405 405 405 405 302  made-cables cable-failures export-made-cables

# What only an owner does.
200 200 200 200 302  422 403 403 422 302  shop-settings
200 403 403 200 302  405 405 405 405 302  audit export-audit
200 403 403 200 302  422 403 403 422 302  hand-over-shop
405 405 405 405 302  422 403 403 422 302  make-invitation
405 405 405 405 302  422 403 403 404 302  change-role
200 403 403 404 302  302 403 403 404 302  remove-member
405 405 405 405 302  302 403 403 404 302  revoke-invitation

# What everybody of the shop looks at.
200 200 200 404 302  405 405 405 405 302  show-pedal-model show-supply-model show-frame-model show-unit
200 200 200 404 302  405 405 405 405 302  board order layout cables power papers build-sheet case-label
200 200 200 404 302  405 405 405 405 302  stage-board board-file changes compare variants scenes
200 200 200 404 302  405 405 405 405 302  proposed-feeds which-supply leads grounds tone
200 200 200 404 302  405 405 405 405 302  place-for-me which-frame show-search
302 302 302 404 302  405 405 405 405 302  watch-search
200 200 200 404 302  405 405 405 405 302  cut-list cut-job
200 200 200 404 302  405 405 405 405 302  underside side-view measure-layout
200 200 200 404 302  405 405 405 405 302  revisions show-revision revision-file revision-report
200 200 200 404 302  405 405 405 405 302  first-power first-power-sheet cut-sheet
200 200 200 404 302  405 405 405 405 302  show-made-cable spares-for-link
200 200 200 404 302  405 405 405 405 302  show-file show-thumbnail supply-files try-feed
# What if nothing is named to lie elsewhere; what is chosen is a part of the layout page, and leads there.
422 422 422 404 302  405 405 405 405 302  try-places
302 302 302 404 302  405 405 405 405 302  show-selection

# What an owner and an editor make anew, in the shop in use.
200 200 403 200 302  405 405 405 405 302  new-board
200 200 403 200 302  422 422 403 422 302  add-client add-pedal-model add-supply-model add-frame-model
200 200 403 200 302  422 422 403 422 302  add-cable-type add-plug-type add-stock add-unit import-gear
200 200 403 200 302  422 422 403 422 302  add-drawer-item add-ready-made add-made-cable
405 405 405 405 302  422 422 403 422 302  book-cuts
405 405 405 405 302  422 422 403 422 302  apply-import begin-board import-board copy-board

# What they change: on a page of its own, or by a form of another page.
200 200 403 404 302  422 422 403 404 302  change-client change-pedal-model change-supply-model
200 200 403 404 302  422 422 403 404 302  change-frame-model change-cable-type change-plug-type
200 200 403 404 302  422 422 403 404 302  change-stock change-drawer-item change-unit delete-gear
200 200 403 404 302  422 422 403 404 302  change-ready-made
200 200 403 404 302  422 422 403 404 302  delete-client change-file
200 200 403 404 302  422 422 403 404 302  change-board change-pedal change-end change-link
200 200 403 404 302  422 422 403 404 302  change-made-cable test-cable report-cable-fault scrap-cable
200 200 403 404 302  422 422 403 404 302  put-cable-on-board
405 405 405 405 302  422 422 403 404 302  take-cable-off
# One that is not on the scrap is told so, on its page.
405 405 405 405 302  302 302 403 404 302  unscrap-cable
405 405 405 405 302  422 422 403 404 302  measure-draw add-gear-files add-board-files
405 405 405 405 302  422 422 403 404 302  change-frame remove-board accept-finding undo-change redo-change
405 405 405 405 302  422 422 403 404 302  follow-school
405 405 405 405 302  422 422 403 404 302  release-revision restore-revision
405 405 405 405 302  422 422 403 404 302  add-variant use-variant rename-variant remove-variant
405 405 405 405 302  422 422 403 404 302  add-scene change-scene move-scene remove-scene
405 405 405 405 302  422 422 403 404 302  add-pedal play-pedal place-pedal move-pedal remove-pedal wire-line
405 405 405 405 302  422 422 403 404 302  place-bodies put-on-board
405 405 405 405 302  422 422 403 404 302  add-source add-amp add-computer remove-end
405 405 405 405 302  422 422 403 404 302  connect-jacks remove-link feed-pedal chain-pedal unfeed move-feed
405 405 405 405 302  422 422 403 404 302  add-supply place-supply remove-supply take-feeds take-leads
405 405 405 405 302  422 422 403 404 302  record-reading take-back-reading put-back-reading keep-draw
405 405 405 405 302  422 422 403 404 302  restore-board restore-pedal restore-gear restore-client
405 405 405 405 302  422 422 403 404 302  start-search take-layout
405 405 405 405 302  303 303 403 404 302  remove-file put-back-file stop-search
# An empty form is enough to take a job back.
405 405 405 405 302  303 303 403 404 302  take-back-cuts
# An empty form names no finding.
405 405 405 405 302  404 404 403 404 302  withdraw-finding
"""


def read_table(table: str) -> dict[str, tuple[list[int], list[int]]]:
    """By name, what GET and what POST gives to each of WHO."""
    found: dict[str, tuple[list[int], list[int]]] = {}
    for line in table.splitlines():
        words = line.split()
        if words and words[0] != "#":
            codes = [int(word) for word in words[:10]]
            for name in words[10:]:
                assert name not in found, f"{name} stands twice in the table"
                found[name] = codes[:5], codes[5:]
    return found


ROWS = read_table(TABLE)
ADD_A_LINE = (
    "Put each new name into the row of TABLE that says what the five of WHO get from GET and an empty POST "
    "(a stranger 404, a viewer who edits 403, nobody 302), or make a row; take out a name that is gone. "
    "A new kind of argument in the address needs a line in `Walk` of test_every_address_is_guarded.py."
)


def test_every_address_stands_in_the_table() -> None:
    assert sorted(NAMES.keys() ^ ROWS.keys()) == [], ADD_A_LINE


def test_where_an_editor_reaches_the_form_a_viewer_is_refused() -> None:
    reached = {name for name, (_, post) in ROWS.items() if post[1] not in (403, 404, 405)} - OWN
    assert len(reached) > 40
    assert {name for name in reached if ROWS[name][1][2] != 403} == set()


def test_no_row_lets_a_stranger_or_nobody_to_a_thing_of_the_shop() -> None:
    named = [ROWS[name] for name in ROWS if "<" in NAMES.get(name, "") and "<str:token>" not in NAMES[name]]
    of_kinds = [ROWS[name] for name in ("import-gear", "apply-import", "export-gear", "download-template")]
    assert len(named) > 60
    for get, post in named:
        assert (get, post) in of_kinds or {get[3], post[3]} <= {404, 405}
        assert get[4] == post[4] == 302


@pytest.mark.parametrize("method", ["get", "post"])
def test_everybody_gets_what_the_table_says(walk: Walk, method: str) -> None:
    people: dict[str, Person | None] = {role: make_person(walk.shop, role) for role in WHO[:3]}
    people |= {"stranger": make_person(make_shop(), "owner"), "nobody": None}
    browsers = {who: browser_of(person) for who, person in people.items()}
    wrong = []
    for name in sorted(NAMES.keys() & ROWS.keys()):
        expected = ROWS[name][method == "post"]
        for who, code in zip(WHO, expected, strict=True):
            given = _status(
                browsers[who] if name != "sign-out" else browser_of(people[who]), method, walk, name
            )
            if given != code and not (given == 503 and name in PAPERS):
                wrong.append(f"{method} {name} as {who}: {given}, the table says {code}")
    assert wrong == [], ADD_A_LINE


def _status(browser: object, method: str, walk: Walk, name: str) -> int:
    with transaction.atomic():
        address = walk.fill(NAMES[name])
        code: int = getattr(browser, method)(address).status_code
        transaction.set_rollback(True)
    return code


def test_what_a_stranger_is_let_into_shows_nothing_of_the_shop(walk: Walk) -> None:
    """What a 200 cannot tell: whose shop the page is of."""
    board = walk.board
    marks = [walk.shop.name, board.code, str(walk.shop.memberships.select_related("person")[0].person)]
    member = browser_of(make_person(walk.shop, "owner"))
    stranger = browser_of(make_person(make_shop(), "owner"))
    for name in sorted(name for name, (get, _) in ROWS.items() if get[3] == 200):
        text = stranger.get(walk.fill(NAMES[name])).text
        assert [mark for mark in marks if mark in text] == [], name
    for name, mark in (("boards", board.code), ("shop-settings", marks[0]), ("people", marks[2])):
        assert mark in member.get(walk.fill(NAMES[name])).text


def test_a_name_in_two_rows_is_seen() -> None:
    row = "200 200 200 200 302  405 405 405 405 302  board order board"
    with pytest.raises(AssertionError, match="board stands twice"):
        read_table(row)


def test_a_row_is_read_as_it_stands() -> None:
    row = "200 200 403 404 302  422 422 403 404 302  change-link"
    assert read_table(f"# words\n{row}") == {
        "change-link": ([200, 200, 403, 404, 302], [422, 422, 403, 404, 302])
    }
