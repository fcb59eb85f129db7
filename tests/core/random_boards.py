"""Random board files that the format allows: any key absent, null or filled, every name leading home.

Values follow the loader's tables; names, ends and limits are put right afterwards.  A board is drawn from a
number with Python's own generator, so that hypothesis can ask for large ones.
"""

from random import Random
from typing import Any

from hypothesis import strategies as st

from boardshop.core.boardfile.shapes import (
    Date,
    Decimal,
    Fixed,
    Flag,
    ListOf,
    Name,
    OneOrMany,
    Record,
    Ref,
    Shape,
    Whole,
    WholeOf,
    Word,
)
from boardshop.core.boardfile.tables import BOARD
from boardshop.core.vocabulary import INPUT_ROLES, JOINS

type Document = dict[str, Any]

LETTERS = {"pedals": "P", "sources": "G", "amps": "A", "computers": "M", "cables": "C", "plugs": "J"} | {
    "links": "W",
    "supplies": "S",
    "pieces": "X",
}
LONG_LISTS = ("pedals", "links", "feeds", "outlets")
ODD_TEXTS = ("", "ß", "É\u0301", "\u202e", "a\tb\nc", "Ω 漢字", "'; --", "<b>", "x" * 60, "\U0001f3b8")
NAMES = ("A", "b", "9V", "ß", "é/", "a b", ".")


def documents() -> st.SearchStrategy[Document]:
    """Board files that the loader must accept, from nearly empty ones to fully recorded ones."""
    return st.builds(random_document, st.integers(0, 2**40), st.sampled_from([0.2, 0.6, 0.9, 0.97, 1.0]))


def random_document(number: int, recorded: float) -> Document:
    """The board file of a number; ``recorded`` is how likely an optional key has a value."""
    draw = Random(number)
    document = _Drawing(draw, recorded).record(BOARD)
    for key, letter in LETTERS.items():
        for place, record in enumerate(document.get(key) or (), start=1):
            record["ref"] = f"{letter}{place}"
    _put_limits_right(document)
    for pedal in document.get("pedals") or ():
        _put_pedal_right(draw, pedal)
    for part in (*(document.get("amps") or ()), *(document.get("computers") or ())):
        _name_apart(part.get("jacks"))
    _name_apart(document.get("scenes"))
    for supply in document.get("supplies") or ():
        _name_apart(supply.get("outlets"))
    _put_links_right(draw, document)
    _put_feeds_right(draw, document)
    _put_references_right(draw, document)
    return document


class _Drawing:
    def __init__(self, draw: Random, recorded: float) -> None:
        self._draw, self._recorded = draw, recorded
        # One board in three has only numbers of the size that pedals and their parts have.
        self._odd = draw.choice([0.0, 0.03, 0.3])

    def record(self, shape: Record) -> Document:
        drawn: Document = {}
        for key, item in shape.fields.items():
            if key in shape.required or self._draw.random() < self._recorded:
                drawn[key] = self.value(item, 7 if key in LONG_LISTS else 3)
            elif self._draw.random() < 0.5:
                drawn[key] = None
        return drawn

    def value(self, shape: Shape, longest: int = 3) -> Any:
        draw = self._draw
        match shape:
            case Record():
                return self.record(shape)
            case ListOf(item, nulls, length):
                return self._list(item, nulls, length or draw.randint(0, longest))
            case OneOrMany(item, nulls):
                return (
                    self._list(item, nulls, draw.randint(1, 3)) if draw.random() < 0.4 else self.value(item)
                )
            case Word(choices) | WholeOf(choices):
                return draw.choice(choices)
            case Whole(least, most):
                return self._whole(least, most)
            case Decimal(above_zero):
                return self._decimal(above_zero)
            case Flag():
                return draw.random() < 0.5
            case Fixed(value):
                return value
            case Date():
                return f"{draw.randint(1, 9999):04}-{draw.randint(1, 12):02}-{draw.randint(1, 28):02}"
            case Name() | Ref():
                return draw.choice(NAMES)
            case _:
                return draw.choice(ODD_TEXTS)

    def _list(self, item: Shape, nulls: bool, length: int) -> list[Any]:
        return [None if nulls and self._draw.random() < 0.3 else self.value(item) for _ in range(length)]

    def _whole(self, least: int, most: int) -> int:
        draw = self._draw
        if draw.random() < self._odd:
            return draw.choice([least, most, draw.randint(least, most), min(max(0, least), most)])
        magnitude = round(10 ** draw.uniform(0, 2.8))
        return min(max(-magnitude if least < 0 and draw.random() < 0.1 else magnitude, least), most)

    def _decimal(self, above_zero: bool) -> float:
        draw = self._draw
        if draw.random() < self._odd:
            return draw.choice([1e-9, 1e9, 1e-3, 1 if above_zero else 0, 0.1 + 0.2])
        return round(10 ** draw.uniform(-1, 2), draw.randint(0, 3)) or 0.5


def _put_limits_right(value: Any) -> None:
    if isinstance(value, list):
        for item in value:
            _put_limits_right(item)
    elif isinstance(value, dict):
        if value.get("mv") is not None:
            for key in ("min_mv", "max_mv"):
                value.pop(key, None)
        for low, high in (("min", "max"), ("min_mv", "max_mv"), ("from", "to")):
            least, most = value.get(low), value.get(high)
            if isinstance(least, int) and isinstance(most, int):
                value[low], value[high] = sorted((least, most))
                if low == "from" and least == most:
                    value[high] = max(most, 1)
                    value[low] = value[high] - 1
        for item in value.values():
            _put_limits_right(item)
        if isinstance(value.get("together_mm"), list):
            value["together_mm"].sort()


def _name_apart(records: list[Document] | None) -> None:
    for number, record in enumerate(records or ()):
        if record.get("name"):
            record["name"] = f"{record['name']}{number}"


def _put_pedal_right(draw: Random, pedal: Document) -> None:
    if draw.random() < 0.7:  # what most pedals have, beside what was drawn
        usual = [
            {"name": "IN", "role": "in"},
            {"name": "OUT", "role": "out"},
            {"name": "DC", "role": "power"},
        ]
        for jack in usual:
            jack |= {"side": draw.choice(("left", "right", "rear")), "offset": draw.randint(0, 100)}
        pedal["jacks"] = [*usual, *(pedal.get("jacks") or ())]
    _name_apart(pedal.get("jacks"))
    for jack in pedal.get("jacks") or ():
        length = pedal["width" if jack.get("side") in ("front", "rear") else "depth"]
        if jack.get("offset") is not None:
            jack["offset"] = min(jack["offset"], length)
    power = pedal.get("power")
    taken = [jack["name"] for jack in pedal.get("jacks") or () if jack["role"] == "power"]
    for number, entry in enumerate(power if isinstance(power, list) else [power] if power else ()):
        entry["name"] = taken[number] if number < len(taken) else f"DC {number} of {pedal['ref']}"


def _jack_ends(document: Document) -> dict[str, list[str]]:
    ends: dict[str, list[str]] = {"out": [f"{source['ref']}.OUT" for source in document.get("sources") or ()]}
    for key in ("pedals", "amps", "computers"):
        for part in document.get(key) or ():
            default = [{"name": "IN", "role": "in"}] if key == "amps" and part.get("jacks") is None else []
            for jack in part.get("jacks") or default:
                ends.setdefault(jack["role"], []).append(f"{part['ref']}.{jack['name']}")
    return ends


def _put_links_right(draw: Random, document: Document) -> None:
    ends = _jack_ends(document)
    links = []
    for link in document.get("links") or ():
        possible = [join for join in JOINS if ends.get(join[0]) and ends.get(join[1])]
        if possible:
            source_role, target_role = draw.choice(possible)
            link["from"] = draw.choice(ends[source_role])
            link["to"] = draw.choice(ends[target_role])
            if target_role in (*INPUT_ROLES, "midi-in"):
                ends[target_role].remove(link["to"])
            links.append(link)
    if document.get("links") is not None:
        document["links"] = links


def _power_ends(document: Document) -> list[str]:
    ends = []
    for pedal in document.get("pedals") or ():
        power = pedal.get("power")
        named = [entry["name"] for entry in (power if isinstance(power, list) else [power] if power else ())]
        jacks = [jack["name"] for jack in pedal.get("jacks") or () if jack["role"] == "power"]
        ends += [f"{pedal['ref']}.{name}" for name in dict.fromkeys((*named, *jacks))]
    return ends


def _put_feeds_right(draw: Random, document: Document) -> None:
    outlets = [
        f"{s['ref']}.{o['name']}" for s in document.get("supplies") or () for o in s.get("outlets") or ()
    ]
    free = _power_ends(document)
    kept: dict[str, int] = {}
    feeds = []
    for feed in document.get("feeds") or ():
        if not outlets or not free:
            break
        chosen = draw.sample(outlets, min(len(outlets), draw.choice([1, 1, 1, 2, 3])))
        fed = draw.sample(free, min(len(free), draw.choice([1, 1, 2])))
        free = [end for end in free if end not in fed]
        feed["from"] = chosen[0] if len(chosen) == 1 and draw.random() < 0.8 else chosen
        feed["to"] = fed[0] if len(fed) == 1 and draw.random() < 0.8 else fed
        settings = [kept.setdefault(end, draw.choice([0, 9000, 12000, 18000])) for end in chosen]
        feed["setting"] = draw.choice([settings, None, settings[0] if len(settings) == 1 else settings])
        lead = feed.get("lead")
        if lead and lead.get("tails") and len(lead["tails"]) != len(fed):
            lead["tails"] = [dict(lead["tails"][0]) for _ in fed]
        feeds.append(feed)
    if document.get("feeds") is not None:
        document["feeds"] = feeds


def _put_references_right(draw: Random, document: Document) -> None:
    cables, plugs, pedals = (
        [record["ref"] for record in document.get(key) or ()] for key in ("cables", "plugs", "pedals")
    )

    def settle(record: Document | None, key: str, refs: list[str]) -> None:
        if record is not None and record.get(key) is not None:
            record[key] = draw.choice(refs) if refs else None

    def settle_list(record: Document, key: str) -> None:
        if record.get(key):
            record[key] = draw.choices(pedals, k=2) if pedals else []

    for key in ("links", "stock", "pieces"):
        for record in document.get(key) or ():
            settle(record, "cable", cables)
            settle(record, "plug_from", plugs)
            settle(record, "plug_to", plugs)
    for feed in document.get("feeds") or ():
        settle(feed.get("lead"), "plug", plugs)
    for pedal in document.get("pedals") or ():
        settle_list(pedal, "with")
    for scene in document.get("scenes") or ():
        settle_list(scene, "on")
