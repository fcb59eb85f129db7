"""What the bench refuses, each in the sentence that a person reads."""

from boardshop.crew.errors import Refusal


class NothingToBook(Refusal):
    """There is nothing to cut here, so nothing was booked; choose boards with cables that are not made."""


class PieceBooked(Refusal):
    """%(piece)s was cut in job %(job)s; if that cable is lost or no longer fits, tick “cut it again”."""


class PieceBookedTwice(Refusal):
    """One of these pieces was booked by somebody else at this moment, so nothing was booked; look at the plan
    again.
    """


class PlanChanged(Refusal):
    """Boards or stock changed after this plan was shown, so nothing was booked: %(changes)s. The page shows
    the plan as it is now; look at it and book it again.
    """


class StockMoved(Refusal):
    """The stock changed at this moment, so nothing was booked; look at the plan again."""


class JobTakenBack(Refusal):
    """Job %(job)s was taken back already, on %(when)s; there is nothing left to take back."""


class OffcutUsed(Refusal):
    """Job %(job)s cannot be taken back: its off-cut %(tag)s %(why)s. Take that back first, or correct the
    stock by hand.
    """


class StockChangedSince(Refusal):
    """Job %(job)s cannot be taken back: the row of the stock that %(tag)s came from %(why)s. Put it right
    first, or correct the stock by hand.
    """


class CablesMadeOfJob(Refusal):
    """Job %(job)s cannot be taken back: what was cut is made already, and stands in the register as
    %(cables)s. Keep or scrap these cables, and correct the stock by hand.
    """


class PieceMade(Refusal):
    """%(piece)s of job %(job)s is in the register already, as cable %(cable)s; register another cable without
    a piece, or cut this one again.
    """


class CutNumberTaken(Refusal):
    """Somebody else booked cuts at this moment, so nothing was booked; book it again."""


class CableMoved(Refusal):
    """Somebody put %(cable)s elsewhere at this very moment, so nothing was stored; look where it is now, then
    send this again."""
