"""Feeds: outlets that exist and keep one setting, power jacks that exist and are fed once."""

from boardshop.core.boardfile.directory import Directory, Names, records
from boardshop.core.boardfile.ends import settle_end
from boardshop.core.boardfile.faults import FaultList, Pointer
from boardshop.core.boardfile.walker import BAD, Cleaned
from boardshop.core.index import fold

type Ends = list[tuple[Pointer, str | None]]


def check_feeds(document: Cleaned, directory: Directory, faults: FaultList) -> None:
    settings: dict[str, int] = {}
    fed: set[str] = set()
    for at, feed in records(document, "feeds"):
        outlets = _settle_ends(
            feed, "from", at, ("supplies",), directory.outlets, "outlet", directory, faults
        )
        jacks = _settle_ends(
            feed, "to", at, ("pedals",), directory.power_jacks, "power jack", directory, faults
        )
        _check_named_once(outlets, faults)
        for spot, jack in jacks:
            if jack is not None and fold(jack) in fed:
                faults.add(spot, f"{jack} is fed already: a power jack has one feed")
            elif jack is not None:
                fed.add(fold(jack))
        _check_settings(feed, at, outlets, settings, faults)
        _check_tails(feed, at, len(jacks), faults)


def _settle_ends(
    feed: Cleaned,
    key: str,
    at: Pointer,
    owners: tuple[str, ...],
    inner: dict[str, Names],
    what: str,
    directory: Directory,
    faults: FaultList,
) -> Ends:
    """Each end with its pointer; the feed then lists them, spelled as defined."""
    value = feed[key]
    several = value if isinstance(value, list) else [value]
    spots: list[Pointer] = [
        (*at, key, n) if isinstance(value, list) else (*at, key) for n in range(len(several))
    ]
    ends = [
        (spot, settle_end(end, spot, owners, inner, what, directory, faults))
        for spot, end in zip(spots, several, strict=True)
    ]
    feed[key] = [end or given for (_, end), given in zip(ends, several, strict=True)]
    return ends


def _check_named_once(outlets: Ends, faults: FaultList) -> None:
    seen: set[str] = set()
    for spot, outlet in outlets:
        if outlet is not None and fold(outlet) in seen:
            faults.add(spot, f"{outlet} is named twice in one feed")
        elif outlet is not None:
            seen.add(fold(outlet))


def _check_settings(
    feed: Cleaned, at: Pointer, outlets: Ends, settings: dict[str, int], faults: FaultList
) -> None:
    """One value for all outlets, or a list beside them; an outlet keeps one setting in all feeds."""
    given, count = feed["setting"], len(outlets)
    if given is BAD or feed["from"] == [BAD]:
        return
    own = given if isinstance(given, list) else [given] * count
    if len(own) != count:
        faults.add((*at, "setting"), f"lists {len(own)} settings beside {count} outlets")
        return
    feed["setting"] = own
    for number, ((_, outlet), setting) in enumerate(zip(outlets, own, strict=True)):
        if outlet is None or not isinstance(setting, int):
            continue
        other = settings.setdefault(fold(outlet), setting)
        if other != setting:
            spot: Pointer = (*at, "setting", number) if isinstance(given, list) else (*at, "setting")
            faults.add(spot, f"{outlet} cannot have two settings: {other} mV before, {setting} mV here")


def _check_tails(feed: Cleaned, at: Pointer, jacks: int, faults: FaultList) -> None:
    lead = feed["lead"]
    tails = lead["tails"] if isinstance(lead, dict) else None
    if isinstance(tails, list) and tails and len(tails) != jacks and feed["to"] != [BAD]:
        faults.add((*at, "lead", "tails"), f"lists {len(tails)} tails for {jacks} jacks")
