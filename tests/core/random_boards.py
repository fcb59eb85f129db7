"""Random board files that the format allows, for hypothesis: any key absent, null or filled.

Values follow the loader's tables; names, ends and limits are put right afterwards.
"""

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
SHORT_LISTS = 3
TEXT = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=8)
NAME = st.text("AbZß1 9.é/", min_size=1, max_size=5).filter(str.strip)


def values(shape: Shape) -> st.SearchStrategy[Any]:
    match shape:
        case Record():
            return _records(shape)
        case ListOf(item, nulls, length):
            inner = st.none() | values(item) if nulls else values(item)
            return st.lists(inner, min_size=length or 0, max_size=length or SHORT_LISTS)
        case OneOrMany(item, nulls):
            inner = st.none() | values(item) if nulls else values(item)
            return values(item) | st.lists(inner, min_size=1, max_size=SHORT_LISTS)
        case Word(choices) | WholeOf(choices):
            return st.sampled_from(choices)
        case Whole(least, most):
            return (
                st.integers(least, min(most, least + 400))
                | st.integers(max(least, -300), min(most, 700))
                | (st.integers(least, most))
            )
        case Decimal(above_zero):
            common = st.floats(1e-6, 1e4) | st.integers(1, 1000) | st.sampled_from([1e-9, 1e9])
            return common if above_zero else common | st.just(0)
        case Flag():
            return st.booleans()
        case Fixed(value):
            return st.just(value)
        case Date():
            return st.dates().map(lambda day: day.isoformat())
        case Name() | Ref():
            return NAME
        case _:
            return TEXT


def _records(shape: Record) -> st.SearchStrategy[Document]:
    required = {key: values(shape.fields[key]) for key in shape.required}
    optional = {key: st.none() | values(item) for key, item in shape.fields.items() if key not in required}
    return st.fixed_dictionaries(required, optional=optional)


@st.composite
def documents(draw: st.DrawFn) -> Document:
    """A board file that the loader must accept."""
    document = draw(values(BOARD))
    for key, letter in LETTERS.items():
        for number, record in enumerate(document.get(key) or (), start=1):
            record["ref"] = f"{letter}{number}"
    _put_limits_right(document)
    for pedal in document.get("pedals") or ():
        _put_pedal_right(pedal)
    for part in (*(document.get("amps") or ()), *(document.get("computers") or ())):
        _name_apart(part.get("jacks"))
    _name_apart(document.get("scenes"))
    for supply in document.get("supplies") or ():
        _name_apart(supply.get("outlets"))
    _put_links_right(draw, document)
    _put_feeds_right(draw, document)
    _put_references_right(draw, document)
    return document


def _put_limits_right(value: Any) -> None:
    if isinstance(value, list):
        for item in value:
            _put_limits_right(item)
    elif isinstance(value, dict):
        if value.get("mv") is not None and "max_ma" in value:
            value.pop("min_mv", None), value.pop("max_mv", None)
        for low, high in (("min", "max"), ("min_mv", "max_mv"), ("from", "to")):
            least, most = value.get(low), value.get(high)
            if isinstance(least, int) and isinstance(most, int):
                value[low], value[high] = sorted((least, most))
                if low == "from" and least == most:
                    value[high] = min(most + 1, 10**9)
                    value[low] = value[high] - 1
        for item in value.values():
            _put_limits_right(item)
        if isinstance(value.get("together_mm"), list):
            value["together_mm"].sort()


def _name_apart(records: list[Document] | None) -> None:
    for number, record in enumerate(records or ()):
        if record.get("name") is not None:
            record["name"] = f"{record['name']}{number}"


def _put_pedal_right(pedal: Document) -> None:
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


def _put_links_right(draw: st.DrawFn, document: Document) -> None:
    ends = _jack_ends(document)
    links = []
    for link in document.get("links") or ():
        possible = [join for join in JOINS if ends.get(join[0]) and ends.get(join[1])]
        if possible:
            source_role, target_role = draw(st.sampled_from(possible))
            link["from"] = draw(st.sampled_from(ends[source_role]))
            link["to"] = draw(st.sampled_from(ends[target_role]))
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


def _put_feeds_right(draw: st.DrawFn, document: Document) -> None:
    outlets = [
        f"{s['ref']}.{o['name']}" for s in document.get("supplies") or () for o in s.get("outlets") or ()
    ]
    free = _power_ends(document)
    kept: dict[str, int] = {}
    feeds = []
    for feed in document.get("feeds") or ():
        if not outlets or not free:
            break
        chosen = draw(st.lists(st.sampled_from(outlets), min_size=1, max_size=2, unique=True))
        fed = draw(st.lists(st.sampled_from(free), min_size=1, max_size=2, unique=True))
        free = [end for end in free if end not in fed]
        feed["from"] = chosen[0] if len(chosen) == 1 and draw(st.booleans()) else chosen
        feed["to"] = fed[0] if len(fed) == 1 and draw(st.booleans()) else fed
        settings = [kept.setdefault(end, draw(st.integers(0, 24000))) for end in chosen]
        feed["setting"] = draw(st.sampled_from([settings, None]))
        lead = feed.get("lead")
        if lead and lead.get("tails") and len(lead["tails"]) != len(fed):
            lead["tails"] = [dict(lead["tails"][0]) for _ in fed]
        feeds.append(feed)
    if document.get("feeds") is not None:
        document["feeds"] = feeds


def _put_references_right(draw: st.DrawFn, document: Document) -> None:
    cables, plugs, pedals = (
        [record["ref"] for record in document.get(key) or ()] for key in ("cables", "plugs", "pedals")
    )

    def settle(record: Document | None, key: str, refs: list[str]) -> None:
        if record is not None and record.get(key) is not None:
            record[key] = draw(st.sampled_from(refs)) if refs else None

    def settle_list(record: Document, key: str) -> None:
        if record.get(key):
            record[key] = draw(st.lists(st.sampled_from(pedals), max_size=3)) if pedals else []

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
