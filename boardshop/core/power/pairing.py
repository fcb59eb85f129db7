"""One power jack and the outlet or outlets that feed it: the value every pair rule reads."""

from dataclasses import dataclass

from boardshop.core.index import fold
from boardshop.core.power.connections import Connection, FedJack, Feeding, Joining, Tap


@dataclass(frozen=True, slots=True)
class Pairing:
    taps: tuple[Tap, ...]
    joining: Joining
    fed: FedJack
    adapters: tuple[str, ...]
    lead_connector: str | None
    shares_outlet: bool
    """Another jack hangs on one of these outlets."""
    shares_return: bool
    """Another jack hangs on the same return."""
    shares_part: bool = False
    """Another feed uses some of these outlets, and not just these."""

    @property
    def is_alternating(self) -> bool:
        """AC on either side: plug polarity has no meaning then."""
        return self.fed.jack.current == "ac" or any(t.outlet.current == "ac" for t in self.taps)

    @property
    def plug(self) -> str | None:
        """The plug that meets the jack: the lead's where recorded, else the outlet's."""
        return self.lead_connector or self.taps[0].outlet.connector

    @property
    def is_keyed(self) -> bool:
        """Both sides USB or both snap: the connector itself fixes the polarity."""
        return self.plug == self.fed.jack.connector and self.plug in ("USB", "snap")


def pair_up(feeding: Feeding, connection: Connection, fed: FedJack) -> Pairing:
    """The pairing of one jack of a connection, as the rest of the feeding makes it."""
    on_outlets = max(len(feeding.jacks_at(tap.ref)) for tap in connection.taps)
    on_return = sum(len(c.jacks) for c in feeding.by_return[feeding.return_key(connection)])
    others = [c for tap in connection.taps for c in feeding.at_outlet.get(fold(tap.ref), ())]
    return Pairing(
        taps=connection.taps,
        joining=connection.joining,
        fed=fed,
        adapters=connection.adapters,
        lead_connector=connection.lead.connector if connection.lead else None,
        shares_outlet=on_outlets > 1,
        shares_return=on_return > 1,
        shares_part=any(_outlets_of(c) != _outlets_of(connection) for c in others),
    )


def _outlets_of(connection: Connection) -> set[str]:
    return {fold(tap.ref) for tap in connection.taps}
