"""What the services refuse of made cables on boards, each in the sentence that a person reads."""

from boardshop.crew.errors import Refusal


class CableElsewhere(Refusal):
    """Cable %(cable)s is already %(there)s; take it off there first, or choose another one."""

    field = "cable"


class CableNotFit(Refusal):
    """Cable %(cable)s failed its test or was scrapped, so it cannot go on a board; mend and test it first."""

    field = "cable"


class CableDoesNotFit(Refusal):
    """Cable %(cable)s cannot go on %(ref)s: %(why)s. Choose another one, or make a new one."""

    field = "cable"


class MadeOfCable(Refusal):
    """%(ref)s is made of cable %(cable)s, which gives it its %(what)s; take the cable off %(ref)s first."""


class CableTooShort(Refusal):
    """Cable %(cable)s %(said)s on %(ref)s as its run is worked out; choose a longer one, or tick that it goes
    on all the same, and it stands among the findings."""

    field = "anyway"
