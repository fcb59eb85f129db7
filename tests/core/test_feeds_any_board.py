"""Proposed feeds of any board that the format allows: no plan raises, nothing proposed is wrong."""

import json

from hypothesis import HealthCheck, given, settings

from boardshop.core.boardfile import load_plan_text
from boardshop.core.feeds import propose_feeds
from boardshop.core.feeds.changes import list_feed_changes
from boardshop.core.feeds.cures import explain_unfed
from boardshop.core.feeds.score import score_feeds
from boardshop.core.index import fold
from boardshop.core.power import is_wrongly_fed, make_feeding
from tests.core.random_boards import documents


@settings(max_examples=40, deadline=None, suppress_health_check=list(HealthCheck), derandomize=True)
@given(documents())
def test_every_allowed_board(document: dict[str, object]) -> None:
    plan = load_plan_text(json.dumps(document))
    proposal = propose_feeds(plan)
    pinned = {fold(end) for feed in plan.feeds if feed.pinned for end in feed.jacks}
    feeding = make_feeding(plan, proposal.feeds)
    for connection in feeding.connections:
        for fed in connection.jacks:
            assert fold(fed.ref) in pinned or not is_wrongly_fed(feeding, connection, fed)
    fed = [end for feed in proposal.feeds for end in feed.jacks]
    assert sorted(map(fold, (*fed, *proposal.unfed))) == sorted(map(fold, proposal.jacks))
    assert score_feeds(plan, proposal.feeds, proposal.jacks) == proposal.exact
    assert all(change.message for change in list_feed_changes(plan, proposal))
    assert [one.jack for one in explain_unfed(plan, proposal)] == list(proposal.unfed)
