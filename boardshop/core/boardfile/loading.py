"""The way in: text to plan, or every reason why not."""

from boardshop.core.boardfile.crosschecks import cross_check
from boardshop.core.boardfile.faults import FaultList, RefusedBoardFile
from boardshop.core.boardfile.making import make_plan
from boardshop.core.boardfile.reading import JsonObject, read_json
from boardshop.core.boardfile.tables import BOARD
from boardshop.core.boardfile.walker import Walker, shown
from boardshop.core.plan import BoardPlan


def load_plan_text(text: bytes | str) -> BoardPlan:
    """The plan that a board file, version 1, describes.

    Raises RefusedBoardFile with every fault, in the order of the document.
    Names are taken as their definition spells them, so that
    `p3.in` becomes `P3.IN` where the board has a P3 with a jack IN.
    """
    document = read_json(text)
    faults = FaultList(document)
    if not isinstance(document, JsonObject):
        faults.add((), f"must be a JSON object, not {shown(document)}")
        raise RefusedBoardFile(faults.in_document_order())
    cleaned = Walker(faults).read(document, BOARD, ())
    assert isinstance(cleaned, dict)
    cross_check(cleaned, faults)
    found = faults.in_document_order()
    if found:
        raise RefusedBoardFile(found)
    return make_plan(cleaned)
