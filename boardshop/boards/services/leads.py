"""Recording the leads that are at hand on the feeds that they serve."""

from collections.abc import Sequence
from decimal import Decimal

from boardshop.boards.errors import LeadNotAtHand
from boardshop.boards.models import Board, DcLead, FeedJack
from boardshop.boards.plan.read import plan_at_start
from boardshop.boards.services.editing import board_edit
from boardshop.boards.services.power_directory import JackDirectory
from boardshop.core.index import fold
from boardshop.core.power.leads import FeedLead, Heap, assign_leads

FACTS = ("length", "awg", "mm2", "connector")
"""What is known of a lead at hand; the plug type on the feed stays."""


def write_taken(end: str, heap: Heap) -> str:
    """A jack and the lead chosen for it as one value of a form: `P1.DC S1/400/22//barrel 5.5/2.1`."""
    lead = heap.lead
    facts = (heap.origin, lead.length, lead.awg, lead.mm2, lead.connector)
    return f"{end} {'/'.join('' if fact is None else str(fact) for fact in facts)}"


@board_edit
def take_leads(board: Board, taken: Sequence[str]) -> None:
    """Record these chosen leads, each as `write_taken` writes it.

    Raises LeadNotAtHand, and records none, where another lead or none is chosen for a jack by now.
    """
    chosen = _chosen_leads(board)
    leads = {text.partition(" ")[0]: chosen.get(_folded(text)) for text in taken}
    directory = JackDirectory(board)
    rows = []
    for end, one in leads.items():
        feed_id = directory.find(end).feed_id if one is not None else None
        if one is None or one.chosen is None or feed_id is None:
            raise LeadNotAtHand(jack=end)
        lead = one.chosen.lead
        mm2 = None if lead.mm2 is None else Decimal(str(lead.mm2))
        row = DcLead(feed_id=feed_id, length=lead.length, awg=lead.awg, mm2=mm2)
        row.connector = lead.connector or ""
        rows.append(row)
    FeedJack.objects.filter(feed_id__in=[row.feed_id for row in rows]).update(
        tail_length=None, tail_mm2=None, tail_awg=None
    )
    DcLead.objects.bulk_create(rows, update_conflicts=True, unique_fields=["feed"], update_fields=FACTS)


def _chosen_leads(board: Board) -> dict[str, FeedLead]:
    """By what a form would send for each."""
    feeds = assign_leads(plan_at_start(board)).feeds
    found = ((one.feed.jacks[0], one) for one in feeds if one.chosen is not None)
    return {_folded(write_taken(end, one.chosen)): one for end, one in found if one.chosen}


def _folded(text: str) -> str:
    end, _, lead = text.partition(" ")
    return f"{fold(end)} {lead}"
