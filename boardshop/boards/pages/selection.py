"""What is chosen on the layout page: one thing with its exact place, or several, and what can be done."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace

from django.utils.translation import gettext as _

from boardshop.boards.forms.edits import EditForm
from boardshop.boards.forms.pedals import PlaceForm, PlaceSupplyForm
from boardshop.boards.forms.places import write_spot
from boardshop.boards.pages.page import PageState
from boardshop.boards.services.places import Spot
from boardshop.core.index import fold
from boardshop.core.layout.geometry import turned_size
from boardshop.core.plan import BoardPlan, Pedal, Supply, Turn

SELECTED = "selected"
"""The key of the form of the one thing that is chosen, and how its posts say which form they are."""
ANY_TURN: tuple[Turn, ...] = (0, 90, 180, 270)
NUDGES = (10, 1)
"""mm of the buttons that move, as the arrow keys with and without Shift."""


@dataclass(frozen=True)
class Step:
    """One button: what it is called, the places that it sends, its sign, and by how many mm it moves."""

    words: str
    places: str
    sign: str = ""
    by: str = ""


@dataclass(frozen=True)
class Chosen:
    """One pedal or supply that is chosen."""

    ref: str
    number: int | str
    name: str
    width: int | None
    depth: int | None
    spot: Spot | None
    turns: tuple[Turn, ...]
    is_supply: bool

    @property
    def is_pinned(self) -> bool:
        return bool(self.spot and self.spot.pinned)


@dataclass(frozen=True)
class Selection:
    """All that is chosen; `form` is that of a single thing."""

    chosen: tuple[Chosen, ...]
    form: EditForm | None

    def __bool__(self) -> bool:
        return bool(self.chosen)

    @property
    def one(self) -> Chosen | None:
        return self.chosen[0] if len(self.chosen) == 1 else None

    @property
    def refs(self) -> str:
        return " ".join(one.ref for one in self.chosen)

    @property
    def placed(self) -> list[Chosen]:
        return [one for one in self.chosen if one.spot is not None]

    @property
    def free(self) -> list[Chosen]:
        """Those that a nudge or a turn may move."""
        return [one for one in self.placed if not one.is_pinned]

    @property
    def unplaced(self) -> list[Chosen]:
        return [one for one in self.chosen if one.spot is None]

    @property
    def nudges(self) -> list[Step]:
        """Rear, left, right and front by each distance; none where nothing may be moved."""
        ways = (
            (_("to the rear"), "↑", 0, 1),
            (_("left"), "←", -1, 0),
            (_("right"), "→", 1, 0),
            (_("to the front"), "↓", 0, -1),
        )
        return [
            Step(
                f"{mm} mm {words}",
                self._write(_mover(mm * x, mm * y)),
                f"{sign} {mm}",
                f"{mm * x} {mm * y}",
            )
            for mm in NUDGES
            for words, sign, x, y in ways
            if self.free
        ]

    @property
    def turn(self) -> Step | None:
        """Each by itself about its middle to its next allowed turn; None where nothing has another one."""
        turning = [one for one in self.free if next_turn(one) != (one.spot and one.spot.turn)]
        if not turning:
            return None
        turn = next_turn(turning[0])
        words = _("Turn to %(turn)d°") % {"turn": turn} if len(turning) == 1 else _("Turn each")
        return Step(words, _join(_turned(one) for one in turning))

    @property
    def off(self) -> Step | None:
        return (
            Step(_("Take off the frame"), _join(Spot(one.ref) for one in self.placed))
            if self.placed
            else None
        )

    @property
    def pin(self) -> Step | None:
        """Pins what lies loose; where all are pinned, lets them loose."""
        pedals = [one for one in self.placed if not one.is_supply]
        loose = [one for one in pedals if not one.is_pinned]
        if not pedals:
            return None
        if loose:
            return Step(_("Pin"), _join(_pinned(one, True) for one in loose))
        return Step(_("Unpin"), _join(_pinned(one, False) for one in pedals))

    def _write(self, move: Callable[[Spot], Spot]) -> str:
        return _join(move(_plain(one)) for one in self.free)


def select(
    plan: BoardPlan, numbers: dict[str, int], state: PageState, unit: str, refs: Iterable[str]
) -> Selection:
    """The things of these refs, in the plan's order; a ref that the board has not is left out."""
    wanted = {fold(ref) for ref in refs}
    chosen = [_of_pedal(pedal, numbers) for pedal in plan.pedals if fold(pedal.ref) in wanted]
    chosen += [_of_supply(supply) for supply in plan.supplies if fold(supply.ref) in wanted]
    form = state.form(SELECTED, lambda: _fresh_form(chosen[0], unit)) if len(chosen) == 1 else None
    return Selection(tuple(chosen), form)


def next_turn(one: Chosen) -> Turn:
    """The allowed turn after the present one, counted on round the clock's other way."""
    now = (one.spot.turn if one.spot else 0) or 0
    ahead: Sequence[Turn] = sorted(one.turns, key=lambda turn: (turn - now - 1) % 360)
    return ahead[0] if ahead else 0


def turn_in_place(spot: Spot, width: int, depth: int, turn: Turn) -> Spot:
    """The same thing turned about the middle of its box, to whole mm."""
    now = spot.turn or 0
    (wide, deep), (wider, deeper) = turned_size(width, depth, now), turned_size(width, depth, turn)
    x, y = (spot.x or 0) + (wide - wider) // 2, (spot.y or 0) + (deep - deeper) // 2
    return replace(spot, x=max(x, 0), y=max(y, 0), turn=turn)


def _of_pedal(pedal: Pedal, numbers: dict[str, int]) -> Chosen:
    place = pedal.place
    return Chosen(
        ref=pedal.ref,
        number=numbers.get(pedal.ref, pedal.ref),
        name=pedal.name or pedal.kind,
        width=pedal.width,
        depth=pedal.depth,
        spot=Spot(pedal.ref, place.x, place.y, place.turn, pinned=pedal.pinned) if place else None,
        turns=pedal.turns or (0,),
        is_supply=False,
    )


def _of_supply(supply: Supply) -> Chosen:
    place = supply.place
    return Chosen(
        ref=supply.ref,
        number=supply.ref,
        name=supply.model or _("supply"),
        width=supply.width,
        depth=supply.depth,
        spot=Spot(supply.ref, place.x, place.y, place.turn, under=place.under) if place else None,
        turns=ANY_TURN,
        is_supply=True,
    )


def _fresh_form(one: Chosen, unit: str) -> EditForm:
    spot = one.spot
    values = {"x": spot.x, "y": spot.y, "turn": spot.turn} if spot else {"turn": 0}
    if one.is_supply:
        initial = {**values, "under": spot.under if spot else False}
        return PlaceSupplyForm(key=SELECTED, unit=unit, initial=initial)
    return PlaceForm(key=SELECTED, unit=unit, initial={**values, "pinned": one.is_pinned})


def _plain(one: Chosen) -> Spot:
    """Where it lies, saying nothing of pin and side."""
    assert one.spot is not None
    return replace(one.spot, pinned=None, under=None)


def _mover(x: int, y: int) -> Callable[[Spot], Spot]:
    return lambda spot: replace(spot, x=max((spot.x or 0) + x, 0), y=max((spot.y or 0) + y, 0))


def _turned(one: Chosen) -> Spot:
    if one.width is None or one.depth is None:
        return replace(_plain(one), turn=next_turn(one))
    return turn_in_place(_plain(one), one.width, one.depth, next_turn(one))


def _pinned(one: Chosen, is_pinned: bool) -> Spot:
    return replace(_plain(one), pinned=is_pinned)


def _join(spots: Iterable[Spot]) -> str:
    return " ".join(write_spot(spot) for spot in spots)
