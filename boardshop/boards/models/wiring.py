"""How a board is joined: links for the signal, feeds for the power."""

from django.contrib.postgres.constraints import ExclusionConstraint
from django.contrib.postgres.fields import ArrayField
from django.db import models
from django.db.models import CheckConstraint, Q, UniqueConstraint
from django.utils.translation import gettext
from django.utils.translation import gettext_lazy as _

from boardshop.boards.models.boards import Board
from boardshop.boards.models.items import Item, Placement, SupplyPlacement
from boardshop.core import vocabulary as words
from boardshop.gear.fields import amount_field, as_choices, known_size_field, one_of, positive, word_field
from boardshop.gear.models import CableType, MadeCable, Outlet, PedalJack, PlugType, PowerJack


class Link(Item):
    """A connection in signal direction.

    An end at a pedal names a jack of its data sheet (`*_jack`); an end at an instrument, amp or computer
    names it by text (`*_name`).  A `made_cable` gives the link its cable, plugs and `made`; Postgres lets in
    only one that neither failed its test nor was scrapped (`made_cable_is_fit`).
    """

    from_item = models.ForeignKey(Item, models.CASCADE, related_name="links_out", verbose_name=_("from"))
    from_jack = models.ForeignKey(PedalJack, models.PROTECT, related_name="+", null=True, blank=True)
    from_name = models.CharField(max_length=20, blank=True)
    to_item = models.ForeignKey(Item, models.CASCADE, related_name="links_in", verbose_name=_("to"))
    to_jack = models.ForeignKey(PedalJack, models.PROTECT, related_name="+", null=True, blank=True)
    to_name = models.CharField(max_length=20, blank=True)
    cable = models.ForeignKey(
        CableType, models.PROTECT, related_name="links", null=True, blank=True, verbose_name=_("cable")
    )
    plug_from = models.ForeignKey(PlugType, models.PROTECT, related_name="+", null=True, blank=True)
    plug_to = models.ForeignKey(PlugType, models.PROTECT, related_name="+", null=True, blank=True)
    route = word_field(_("route"), words.ROUTES, blank=False, default="top")
    length = known_size_field(_("length of a given cable, mm"), help_text=_("A lead that is not cut."))
    made = known_size_field(_("made, cut length, mm"))
    carries = word_field(_("carries"), words.CARRIES, blank=False, default="signal")
    screen = word_field(_("screen"), words.SCREENS, blank=False, default="joined")
    made_cable = models.ForeignKey(
        MadeCable, models.PROTECT, related_name="links", null=True, blank=True, verbose_name=_("made cable")
    )

    class Meta:
        constraints = [
            UniqueConstraint(fields=["made_cable"], name="made_cable_on_one_link"),
            CheckConstraint(
                condition=Q(made_cable__isnull=True) | Q(made__isnull=False),
                name="link_made_cable_has_its_length",
            ),
            UniqueConstraint(
                fields=["to_item", "to_jack", "to_name"],
                condition=Q(carries__in=["signal", "midi"]),
                nulls_distinct=False,
                name="one_link_per_input",
            ),
            CheckConstraint(
                condition=Q(from_jack__isnull=True) ^ Q(from_name=""), name="link_from_jack_or_name"
            ),
            CheckConstraint(condition=Q(to_jack__isnull=True) ^ Q(to_name=""), name="link_to_jack_or_name"),
            *positive("link", "length", "made"),
            one_of("link", "route", words.ROUTES),
            one_of("link", "carries", words.CARRIES),
            one_of("link", "screen", words.SCREENS),
        ]


class Feed(models.Model):
    """One power connection: an outlet, or several joined ones, to a power jack or a chain of them."""

    board = models.ForeignKey(Board, models.CASCADE, related_name="feeds")
    position = models.PositiveSmallIntegerField(default=0)
    adapters = ArrayField(
        models.CharField(max_length=10, choices=as_choices(words.ADAPTERS)),
        default=list,
        blank=True,
        verbose_name=_("adapters"),
    )
    pinned = models.BooleanField(_("pinned"), default=False)

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            CheckConstraint(
                condition=Q(adapters__contained_by=list(words.ADAPTERS)), name="feed_adapters_known"
            ),
        ]

    def __str__(self) -> str:
        return f"feed {self.pk}"


class FeedOutlet(models.Model):
    """An outlet of a feed, and the voltage chosen on it where it has several."""

    feed = models.ForeignKey(Feed, models.CASCADE, related_name="outlets")
    position = models.PositiveSmallIntegerField(default=0)
    supply = models.ForeignKey(SupplyPlacement, models.CASCADE, related_name="feed_outlets")
    outlet = models.ForeignKey(Outlet, models.PROTECT, related_name="feed_outlets")
    setting_mv = amount_field(_("setting, mV"))

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            UniqueConstraint(fields=["feed", "supply", "outlet"], name="feed_names_an_outlet_once"),
            ExclusionConstraint(
                name="one_setting_per_outlet",
                expressions=[("supply", "="), ("outlet", "="), ("setting_mv", "<>")],
            ),
        ]

    def __str__(self) -> str:
        return f"{self.supply.ref}.{self.outlet.name}"

    def described_use(self) -> str:
        """How this row is named where the outlet that it uses cannot go."""
        return gettext("the feed from %(outlet)s of board %(board)s") % {
            "outlet": self,
            "board": self.feed.board,
        }


class FeedJack(models.Model):
    """A power jack that a feed reaches; several make a chain, each with its own tail."""

    feed = models.ForeignKey(Feed, models.CASCADE, related_name="jacks")
    position = models.PositiveSmallIntegerField(default=0)
    pedal = models.ForeignKey(Placement, models.CASCADE, related_name="feed_jacks")
    jack = models.ForeignKey(PowerJack, models.PROTECT, related_name="feed_jacks")
    tail_length = known_size_field(_("tail, mm"))
    tail_mm2 = models.DecimalField(_("tail, mm²"), max_digits=8, decimal_places=4, null=True, blank=True)
    tail_awg = amount_field(_("tail, AWG"))

    class Meta:
        ordering = ["position", "pk"]
        constraints = [
            UniqueConstraint(fields=["pedal", "jack"], name="one_feed_per_power_jack"),
            *positive("feed_jack", "tail_length", "tail_mm2"),
        ]

    def __str__(self) -> str:
        return f"{self.pedal.ref}.{self.jack.name}"

    def described_use(self) -> str:
        """How this row is named where the power jack that it uses cannot go."""
        return gettext("the feed of %(jack)s of board %(board)s") % {"jack": self, "board": self.feed.board}


class DcLead(models.Model):
    """The lead of a feed, from the outlet to the pedal or to where its tails begin."""

    feed = models.OneToOneField(Feed, models.CASCADE, related_name="lead")
    length = known_size_field(_("length, mm"))
    mm2 = models.DecimalField(_("conductor, mm²"), max_digits=8, decimal_places=4, null=True, blank=True)
    awg = amount_field(_("conductor, AWG"))
    connector = word_field(_("connector"), words.CONNECTORS)
    plug = models.ForeignKey(
        PlugType, models.PROTECT, related_name="+", null=True, blank=True, verbose_name=_("plug")
    )

    class Meta:
        constraints = [
            *positive("dc_lead", "length", "mm2"),
            one_of("dc_lead", "connector", words.CONNECTORS),
        ]

    def __str__(self) -> str:
        return f"{self.length} mm" if self.length else "length not recorded"
