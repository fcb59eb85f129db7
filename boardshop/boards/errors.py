"""What the board services refuse, each in the sentence that a person reads."""

from boardshop.crew.errors import Refusal


class StaleEdit(Refusal):
    """%(board)s was changed after you opened it; look at what is there now, then send it again."""


class RefTaken(Refusal):
    """%(ref)s stands on %(board)s already; write another one as Ref, capitals do not tell refs apart."""

    field = "ref"


class RefNotPlain(Refusal):
    """%(ref)s cannot stand as Ref; write letters and digits only, such as P7."""

    field = "ref"


class NameMissing(Refusal):
    """A board needs a name, such as the one on its frame."""

    field = "name"


class BegunAlready(Refusal):
    """This form has begun %(board)s already; open the page of new boards again for another one."""


class NotOfThisShop(Refusal):
    """%(thing)s belongs to another shop; choose one from this shop's own gear."""


class NotOfThisBoard(Refusal):
    """%(thing)s is not on %(board)s; choose something that is."""


class WrongUnit(Refusal):
    """Unit %(unit)s is a %(model)s; choose a unit of the same model, or change the pedal to that model."""

    field = "unit"


class UnitElsewhere(Refusal):
    """%(unit)s is already %(there)s; take it off there first, or choose another unit."""

    field = "gear"


class UnitInFileElsewhere(Refusal):
    """%(unit)s of %(ref)s is already %(there)s; take it off there, or bring the file in with models only."""

    field = "board_file"


class SizeNotPositive(Refusal):
    """%(column)s must be above zero; leave it blank if nobody measured it."""


class HalfAPlace(Refusal):
    """A place needs both x and y; fill in both, or neither for a pedal that is not on the frame yet."""

    field = "x"


class UseOutOfRange(Refusal):
    """Stepped on goes from 0 to 5; write 5 for a pedal that is stepped on in every song."""

    field = "use"


class JackUnknown(Refusal):
    """%(end)s does not exist; choose one of the jacks that %(item)s has."""


class WrongDirection(Refusal):
    """%(source)s cannot lead to %(target)s: a link leads from an output to an input of the same sort."""


class InputTaken(Refusal):
    """%(target)s already has a link; remove that one first, one input takes one plug."""

    field = "to"


class LoopsBack(Refusal):
    """%(source)s and %(target)s belong to the same pedal; a link joins two different ones."""

    field = "to"


class OutletUnknown(Refusal):
    """Outlet %(outlet)s does not exist on supply %(supply)s; choose one of its own outlets."""

    field = "outlet"


class NoSuchChoice(Refusal):
    """This is no outlet of the list; choose one of the list."""

    field = "outlet"


class JackFedTwice(Refusal):
    """%(jack)s already has a feed; change that one, one power jack takes one plug."""

    field = "jack"


class NothingThere(Refusal):
    """Nothing feeds %(jack)s now, so there is no lead to hang on; feed it first."""

    field = "onto"


class LeadNotAtHand(Refusal):
    """The lead for %(jack)s is not the one that your page showed: what is at hand, or what is needed, has
    changed. Look at what is chosen now and use that.
    """


class SettingNotOffered(Refusal):
    """Outlet %(outlet)s cannot be set to %(setting)s; choose one of the voltages it offers."""

    field = "setting"


class TwoSettings(Refusal):
    """Outlet %(outlet)s feeds something else at another voltage; one outlet has one setting at a time."""

    field = "setting"


class OutletTwice(Refusal):
    """%(outlet)s is chosen twice; join it with another outlet, or with none."""

    field = "second"


class AdapterUnknown(Refusal):
    """That adapter is not on the list; choose reverser, converter, parallel or series."""

    field = "adapters"


class OnlyCured(Refusal):
    """%(rule)s is a %(severity)s finding: it can be cured, but not kept on purpose."""


class FindingGone(Refusal):
    """%(rule)s no longer stands on this board; there is nothing to keep."""


class WhyMissing(Refusal):
    """Write why it is kept, so that the next technician knows; a few words are enough."""

    field = "why"


class AcceptedTwice(Refusal):
    """%(rule)s is already kept on purpose here; withdraw that first to give another reason."""


class SceneNameTaken(Refusal):
    """%(board)s already has a scene of that name; give this one another."""

    field = "name"


class SceneNameMissing(Refusal):
    """A scene needs a name, such as “verse” or the song’s."""

    field = "name"


class TooManyScenes(Refusal):
    """%(board)s has %(most)s scenes, as many as a board holds; change one of them, or remove one first."""


class NotStorable(Refusal):
    """%(place)s cannot be stored: %(column)s. %(detail)s Change it in the board file and send that again."""

    field = "board_file"


class PassedAgain(Refusal):
    """%(ref)s has loops in this line, and so more than one place; move the pedals in its loops, or write
    the sequence with %(ref)s in front of, between and behind them."""


class NoLoopLeft(Refusal):
    """The sequence passes %(ref)s %(times)s times, which takes %(needed)s loops; it has %(count)s for it."""

    field = "refs"


class EmptyLoop(Refusal):
    """%(ref)s stands twice in a row, with nothing in the loop between; write what the loop holds, or %(ref)s
    once."""

    field = "refs"


class PedalTwice(Refusal):
    """%(ref)s stands in the order twice; a pedal without loops of its own has one place in a line."""


class NoSuchPosition(Refusal):
    """The line has %(count)s places; choose one from 1 to %(count)s."""

    field = "position"


class CannotPass(Refusal):
    """%(ref)s has no %(role)s jack on record, so nothing can pass through it; add the jack to its sheet."""


class NothingInLine(Refusal):
    """The sequence names no pedal, and so would unwire all of them; write the refs of those that stay.
    A pedal you leave out is unwired, and its links can be removed one by one on the cables page."""

    field = "refs"


class OnAnotherLine(Refusal):
    """%(ref)s stands on way %(number)s, %(way)s, and %(others)s would be cut off there.
    Name all pedals of that way to bring it along, or wire it without %(ref)s first."""

    field = "refs"


class InputHeld(Refusal):
    """%(target)s is taken by %(link)s from %(source)s, not named here, and one input takes one plug.
    Remove %(link)s on the cables page first, or name that pedal too."""

    field = "refs"


class GearGone(Refusal):
    """%(things)s: what was used there is no longer in the shop, so nothing was changed; add the gear anew."""


class GearInTrash(Refusal):
    """%(things)s lies in the trash, so nothing was changed; put it back there first, then do this again."""


class NothingToUndo(Refusal):
    """There is no change of yours on %(board)s to take back."""


class NothingToRedo(Refusal):
    """There is no change of yours on %(board)s to do again."""


class ChangedSince(Refusal):
    """%(who)s changed the same in edit %(number)s, “%(what)s”, which stands in the way of your edit %(own)s,
    “%(mine)s”. Nothing was done; what stands there now can be changed by hand."""


class NotAsLeft(ChangedSince):
    """What your edit %(own)s, “%(mine)s”, changed is not as it was left, or something hangs on it now.
    Nothing was done; what stands there now can be changed by hand."""


class ReleaseBlocked(Refusal):
    """%(board)s was not released: %(findings)s would destroy gear or hurt people. Cure that first."""


class ReleaseReasonMissing(Refusal):
    """%(n)s open findings are a fault or unknown; write why the board goes out with them all the same."""

    field = "reason"


class AsReleased(Refusal):
    """%(board)s is as revision %(number)s has it, so there is nothing to release."""


class VariantIsCurrent(Refusal):
    """“%(name)s” is the current variant; make another one current first."""


class VariantNameMissing(Refusal):
    """A variant needs a name that says what is different, such as “wah after fuzz”."""

    field = "name"


class VariantNameTaken(Refusal):
    """%(board)s has a variant of that name already; write another one, capitals do not tell names apart."""

    field = "name"


class PlaceTooFar(Refusal):
    """This place is over a kilometre from the frame’s corner; look for a slipped point or a wrong unit."""


class NoFreeSpot(Refusal):
    """There is no free spot for %(thing)s: wherever it would lie, something is too near.
    Move or take off something first, allow another turn, or place it by hand and see what is in the way."""


class NotMeasured(Refusal):
    """The size of %(thing)s is not recorded, so no spot can be sought; measure its width and depth first."""


class NotInTrash(Refusal):
    """%(thing)s is no longer in the trash: it was put back, or its 30 days are over."""


class RefTakenSince(Refusal):
    """%(thing)s cannot be put back: its ref stands for something else on %(board)s now. Rename that first."""


class LeadNotFed(Refusal):
    """Nothing feeds %(end)s now, so it has no plug to meter; feed it on the power page first."""


class LeadNotMetered(Refusal):
    """The plug for %(end)s was not metered as it is fed now; meter it open before its pedal is on it."""

    field = "load"


class NoLoadRead(Refusal):
    """This reading at %(end)s holds no current to keep; read the current with the pedal on first."""


class NoUnitForDraw(Refusal):
    """The board does not say which unit stands at %(end)s; choose its unit on the pedal's page first."""


class NothingToPlace(Refusal):
    """%(board)s has no pedal yet; put some on it on its order page, then search for their places."""


class AllPlaced(Refusal):
    """Every pedal of %(board)s has a place, so there is nothing to finish; place all anew, or make room."""

    field = "wanted"


class NoFramesToTry(Refusal):
    """The catalogue has no frame to try; add frames with their sizes first."""


class CannotAllFit(Refusal):
    """Not everything can be placed: %(reasons)s"""


class SearchUnderWay(Refusal):
    """A search for %(board)s is under way already; look at it, or stop it before another one is started."""


class TooManySearches(Refusal):
    """%(n)s searches wait for their turn already; start this one when some of them are done."""


class NoSuchAnswer(Refusal):
    """This search has no such answer, or none that can be taken as it is; choose one of those it shows."""

    field = "answer"


class FrameGone(Refusal):
    """%(frame)s is no longer in the catalogue, so its layout was not taken; search for a frame again."""

    field = "answer"
