"""What the gear services refuse, each in the sentence that a person reads."""

from boardshop.crew.errors import ChangedMeanwhile as ChangedMeanwhile
from boardshop.crew.errors import Refusal


class NameTaken(Refusal):
    """This shop already has “%(name)s”; change that one, or give this one another name."""

    field = "name"


class NameMissing(Refusal):
    """A name is needed: what the gear is called on its data sheet."""

    field = "name"


class UnknownWord(Refusal):
    """%(column)s of “%(name)s” has a word that is not on its list; choose one of those, or leave it blank."""


class SizeNotPositive(Refusal):
    """%(column)s of “%(name)s” is zero; leave it blank if nobody measured it."""


class AmountNegative(Refusal):
    """%(column)s of “%(name)s” is below zero; write it from zero on, or leave it blank."""


class JackNameTwice(Refusal):
    """Two jacks of “%(name)s” have the same name; give each a name of its own, capitals do not tell them
    apart.
    """

    field = "jacks"


class JackNameNotOneWord(Refusal):
    """A jack of “%(name)s” has a name with a space or a point in it, or none; write one word, such as IN
    or OUT_L.
    """

    field = "jacks"


class JackBeyondSide(Refusal):
    """Jack %(jack)s lies at %(offset)s mm, but its side of “%(name)s” is %(side)s mm long; measure the
    offset again.
    """

    field = "jacks"


class SwitchOutsideBox(Refusal):
    """A foot switch at %(x)s, %(y)s mm is outside the box of “%(name)s”, %(width)s × %(depth)s mm; measure
    it again.
    """

    field = "switches"


class PowerRange(Refusal):
    """A power jack of “%(name)s” has a least voltage above its most; swap the two."""

    field = "power"


class TurnsUnknown(Refusal):
    """“%(name)s” needs at least one allowed turn out of 0, 90, 180 and 270."""

    field = "turns"


class OutletNameTwice(Refusal):
    """Two outlets of “%(name)s” have the same name; give each the name that is printed beside it."""

    field = "outlets"


class OutletNameNotOneWord(Refusal):
    """An outlet of “%(name)s” has a name with a space or a point in it, or none; write one word, such as 4
    or 9V-1.
    """

    field = "outlets"


class OutletRange(Refusal):
    """An outlet of “%(name)s” is set from a higher to a lower voltage; write the lower one first."""

    field = "outlets"


class MainsRange(Refusal):
    """The mains range of “%(name)s” starts above its end; write the lower voltage first."""

    field = "mains_min_mv"


class MainsHzUnknown(Refusal):
    """Mains run at 50 or 60 Hz; “%(name)s” names another frequency."""

    field = "mains_hz"


class HalfRecorded(Refusal):
    """One half of a pair of “%(name)s” is missing: front and rear height, or x and y of a lead; give both
    or neither.
    """


class BandWrong(Refusal):
    """A rail or tier of “%(name)s” from %(start)s to %(end)s mm does not lie within its depth of %(depth)s
    mm.
    """

    field = "rails"


class TiersOverlap(Refusal):
    """Two tiers of “%(name)s” overlap at %(at)s mm; let one end where the next begins."""

    field = "tiers"


class KeepoutOutside(Refusal):
    """What is kept free at %(x)s, %(y)s mm reaches beyond “%(name)s”, %(width)s × %(depth)s mm."""

    field = "keepouts"


class MemberOutside(Refusal):
    """A part under the top at %(x)s, %(y)s mm reaches beyond “%(name)s”, %(width)s × %(depth)s mm."""

    field = "members"


class NoSuchGauge(Refusal):
    """A conductor of “%(name)s” has a gauge beyond AWG 56; read it again, or write mm² instead."""

    field = "awg"


class GaugesDiffer(Refusal):
    """AWG %(awg)s has %(area)s mm², not %(mm2)s; write the one that stands on the lead's jacket."""

    field = "mm2"


class SameInDrawer(Refusal):
    """The drawer has “%(name)s” already; change how many there are, or tell the two apart by a note."""

    field = "note"


class UnitNeedsOneModel(Refusal):
    """A unit is one pedal or one supply; choose exactly one model."""

    field = "model"


class UnitStandsOnBoard(Refusal):
    """The model of “%(name)s” cannot be changed while it stands as %(users)s; take it off there first, or
    record the other one as a unit of its own.
    """

    field = "model"


class SerialTaken(Refusal):
    """“%(name)s” is already recorded with this serial; open that unit, or read the serial again."""

    field = "serial"


class DrawTwice(Refusal):
    """The draw of one power jack of “%(name)s” is written twice; keep the newer figure."""

    field = "draws"


class NoSuchPowerJack(Refusal):
    """“%(name)s” has no power jack called %(jack)s; its data sheet has %(known)s."""

    field = "jack"


class GearInUse(Refusal):
    """“%(name)s” is still used by %(users)s; take it off there first, or keep it."""


class GearNotInTrash(Refusal):
    """“%(name)s” is no longer in the trash: it was put back, or its 30 days are over."""


class WholeInTrash(Refusal):
    """“%(name)s” belongs to “%(whole)s”, which lies in the trash too; put that back first, then this."""


class NameTakenSince(Refusal):
    """“%(name)s” cannot be put back: another with this name or serial was added since. Rename that one first,
    then put this back.
    """


class PieceInUse(Refusal):
    """%(piece)s of “%(name)s” is used by %(users)s; free it there first, or keep %(piece)s as it is."""


class NoSuchCable(Refusal):
    """This shop has no cable type “%(name)s”; add it first, or choose one of the list."""

    field = "cable"


class NoSuchModel(Refusal):
    """This shop has no %(what)s “%(name)s”; add its data sheet first, or correct maker and name."""

    field = "model"


class NoSuchOwner(Refusal):
    """This shop knows no artist or customer “%(name)s”; add them first, or correct the name."""

    field = "owner"


class CableIdTaken(Refusal):
    """%(name)s is the id of another cable; send it again, and another id is drawn."""


class CableIdUnreadable(Refusal):
    """%(name)s is no id of a cable; an id has four letters or digits, such as 7K3M."""


class CableLengthImpossible(Refusal):
    """A made cable is 20 mm to 100000 mm long; look for a slipped point or a wrong unit."""

    field = "length"


class ReadingImpossible(Refusal):
    """No meter shows that: a reading is from zero on, and beyond its range is written as OL."""


class CableVerdictMissing(Refusal):
    """Nothing was read; write down at least one reading, or leave the test for later."""


class SymptomMissing(Refusal):
    """Write what was heard or seen, such as “crackles when stepped beside”."""

    field = "symptom"


class NoSuchPlug(Refusal):
    """This shop has no plug type “%(name)s”; add it first, or choose one of the list."""


class CableScrapped(Refusal):
    """%(name)s was scrapped on %(on)s; take it from the scrap again first, or use another cable."""


class CableNotScrapped(Refusal):
    """%(name)s is not on the scrap: somebody has taken it from there already."""


class CableOnBoard(Refusal):
    """%(name)s is %(there)s, so its kind, type, plugs and length stay as they are; take it off there first,
    or leave them."""
