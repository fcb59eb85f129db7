"""Proposed feeds: which outlet feeds which jack best, and what that changes."""

from boardshop.core.feeds.proposal import Proposal, print_proposal, propose_feeds

__all__ = ["Proposal", "print_proposal", "propose_feeds"]
