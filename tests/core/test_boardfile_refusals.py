"""Every way a board file is refused, each with the pointer of its place; basis: the board-file format."""

import json
import random

import pytest

from boardshop.core.boardfile import RefusedBoardFile
from boardshop.core.boardfile.shapes import ListOf, OneOrMany, Record
from boardshop.core.boardfile.tables import BOARD
from tests.core.documents import (
    changed,
    edited,
    full_document,
    load,
    small_document,
    value_at,
    without,
)

BILLION = 1_000_000_000


def faults_of(document):
    with pytest.raises(RefusedBoardFile) as refusal:
        load(document)
    return [(fault.pointer, fault.message) for fault in refusal.value.faults]


VALUES = [
    (("format",), "other-board", 'must be "boardshop-board"'),
    (("version",), 2, "must be 1"),
    (("version",), True, "must be 1"),
    (("version",), 1.0, "must be 1"),
    (("name",), 7, "must be text, not 7"),
    (("name",), "half \ud800", "half a surrogate pair"),
    (("note",), "nul \0", "a NUL"),
    (("pedals",), {}, "must be a list, not an object"),
    (("pedals", 0), None, "must be an object, not null"),
    (("pedals", 0), [], "must be an object, not a list"),
    (("pedals", 0, "width"), 73.5, "must be a whole number, not 73.5"),
    (("pedals", 0, "width"), 73.0, "must be a whole number, not 73.0"),
    (("pedals", 0, "width"), True, "must be a whole number, not true"),
    (("pedals", 0, "width"), "73", 'must be a whole number, not "73"'),
    (("pedals", 0, "height"), 0, "must be above zero"),
    (("frame", "depth"), -1, "must be above zero"),
    (("frame", "width"), BILLION + 1, "is beyond 1,000,000,000"),
    (("frame", "keepouts", 0, "depth"), 0, "must be above zero"),
    (("frame", "under", "front"), float("nan"), "must be a finite number"),
    (("frame", "under", "rear"), float("inf"), "must be a finite number"),
    (("frame", "under", "rear"), -0.5, "must not be negative"),
    (("frame", "lid"), float("-inf"), "must be a finite number"),
    (("frame", "surface"), "round", "must be one of flat, slotted"),
    (("frame", "in", "x"), -BILLION - 1, "is beyond"),
    (("pieces", 0, "ref"), "X 1", "must be letters and digits only"),
    (("pedals", 0, "kind"), "Fuzz", "must be one of tuner,"),
    (("pedals", 0, "role"), "", "must be one of drive,"),
    (("pedals", 0, "jacks", 0, "role"), "audio", "must be one of in, out"),
    (("pedals", 0, "jacks", 0, "name"), " ", "must not be blank"),
    (("pedals", 0, "jacks", 0, "side"), "top", "must be one of left, right, front, rear"),
    (("pedals", 0, "jacks", 0, "offset"), 131, "is beyond the right side: 131 mm along a depth of 130 mm"),
    (("pedals", 0, "jacks", 2, "offset"), 74, "is beyond the rear side: 74 mm along a width of 73 mm"),
    (("pedals", 0, "jacks", 0, "offset"), -1, "must not be negative"),
    (("pedals", 0, "treadle"), 1, "must be true or false, not 1"),
    (("pedals", 0, "input_ohm"), -1, "must not be negative"),
    (("pedals", 0, "latency_ms"), -0.1, "must not be negative"),
    (("pedals", 0, "use"), 6, "must be at most 5, not 6"),
    (("pedals", 0, "turns", 1), 45, "must be one of 0, 90, 180, 270, not 45"),
    (("pedals", 0, "place", "turn"), 360, "must be one of 0, 90, 180, 270, not 360"),
    (("pedals", 0, "with", 0), "P9", '"P9" is no pedal of this board'),
    (("pedals", 0, "with", 0), "G1", '"G1" is a source, not a pedal'),
    (("pedals", 0, "power", "min"), 9601, "min 9601 is above max 9600"),
    (("pedals", 0, "power", "rated"), -3, "must not be negative"),
    (("pedals", 1, "power", 1, "name"), "9v", "is already the name of another power jack here"),
    (("pedals", 1, "power", 1, "name"), "in", "is the name of a jack that is no power jack"),
    (("pedals", 1, "jacks", 1, "name"), "in", "is already the name of another jack here"),
    (("computers", 0, "ref"), "p1", '"p1" is already the ref of the pedal "P1"'),
    (("pieces", 0, "ref"), "P1", 'is already the ref of the pedal "P1"'),
    (("pieces", 0, "ref"), "w1", 'is already the ref of the link "W1"'),
    (("cables", 0, "diameter"), 0, "must be above zero"),
    (("cables", 0, "diameter"), 1e-300, "is nearer to zero than"),
    (("cables", 0, "price"), 1e300, "is beyond"),
    (("cables", 0, "price"), "1,90", 'must be a number, not "1,90"'),
    (("cables", 0, "price"), False, "must be a number, not false"),
    (("plugs", 0, "connector"), "6.35", "must be one of 6.35 TS"),
    (("links", 1, "length"), 0, "must be above zero"),
    (("links", 1, "cable"), "C7", '"C7" is no cable type of this board'),
    (("links", 1, "plug_from"), "C1", '"C1" is a cable type, not a plug type'),
    (("links", 1, "carries"), "audio", "must be one of signal, midi, control, usb"),
    (("links", 1, "from"), "P1", "must be REF.NAME as P3.IN"),
    (("links", 1, "from"), "P8.OUT", 'nothing on this board is called "P8"'),
    (("links", 1, "from"), "P1.THRU", 'P1 has no jack "THRU" but IN, OUT, DC'),
    (("links", 1, "from"), "S1.1", "the supply S1 has no jacks"),
    (("links", 1, "to"), "P1.IN", "P1.IN is an input that the link W1 already leads to"),
    (("supplies", 0, "class"), "III", "must be one of I, II"),
    (("supplies", 0, "limit_mw"), -1, "must not be negative"),
    (("supplies", 0, "mains", "min"), 270000, "min 270000 is above max 264000"),
    (("supplies", 0, "mains", "inlet"), "C13", "must be one of C14"),
    (("supplies", 0, "place", "under"), "yes", "must be true or false"),
    (("supplies", 0, "outlets", 1, "name"), "1", "is already the name of another outlet here"),
    (("supplies", 0, "outlets", 1, "settings", 0, "min_mv"), 9001, "min_mv 9001 is above max_mv 9000"),
    (("supplies", 0, "outlets", 0, "settings", 0, "max_ma"), -1, "must not be negative"),
    (("feeds", 0, "from"), "S1.9", 'S1 has no outlet "9" but 1, 2, 3'),
    (("feeds", 0, "from"), [], "must not be an empty list"),
    (("feeds", 0, "to"), "P1.IN", 'P1 has no power jack "IN" but DC'),
    (("feeds", 0, "to"), "A1.IN", "the amp A1 has no power jacks"),
    (("feeds", 1, "to", 1), "p1.dc", "P1.DC is fed already"),
    (("feeds", 0, "adapter", 0), "gender", "must be one of reverser"),
    (("feeds", 0, "lead", "mm2"), 0, "must be above zero"),
    (("feeds", 0, "lead", "awg"), 57, "must be at most 56"),
    (("feeds", 0, "lead", "plug"), "J5", '"J5" is no plug type of this board'),
    (("feeds", 1, "lead", "tails"), [{"length": 100}], "lists 1 tails for 2 jacks"),
    (("stock", 0, "cable"), "J1", '"J1" is a plug type, not a cable type'),
    (("stock", 0, "kind"), "drum", "must be one of reel, offcut"),
    (("supplies", 0, "leads"), {}, "must be a list, not an object"),
    (("supplies", 0, "leads", 0, "count"), 0, "must be above zero"),
    (("supplies", 0, "leads", 0, "length"), 0, "must be above zero"),
    (("supplies", 0, "leads", 0, "awg"), 57, "must be at most 56"),
    (("supplies", 0, "leads", 0, "kind"), "lead", "is an unknown key"),
    (("supplies", 0, "price"), -1, "must not be negative"),
    (("drawer", 0, "kind"), "doubler", "must be one of lead, reverser, converter, parallel, series"),
    (("drawer", 0, "count"), 0, "must be above zero"),
    (("drawer", 0, "count"), 1.5, "must be a whole number, not 1.5"),
    (("drawer", 1, "length"), 0, "must be above zero"),
    (("drawer", 1, "mm2"), 0, "must be above zero"),
    (("drawer", 1, "connector"), "jack", "must be one of 6.35 TS"),
    (("pieces", 0, "cut_mm"), 0, "must be above zero"),
    (("scenes", 0, "on", 1), "P7", '"P7" is no pedal of this board'),
    (("accepted", 0, "on"), "2026-02-29", "must be a date as 2026-01-31"),
    (("rules", "gap_mm"), -1, "must not be negative"),
    (("rules", "school"), "other", "must be one of common, dynamics-first"),
    (("rules", "together_mm"), [120, 70], "least 120 is above most 70"),
    (("rules", "together_mm"), [70], "must have 2 entries, not 1"),
]


@pytest.mark.parametrize(("keys", "value", "message"), VALUES)
def test_a_bad_value_is_refused_at_its_place_and_nowhere_else(keys, value, message):
    pointer = "".join(f"/{key}" for key in keys)
    ((at, told),) = faults_of(changed(keys, value))
    assert at == pointer
    assert message in told


REQUIRED = [
    ("format",), ("version",), ("frame",), ("frame", "width"), ("frame", "depth"), ("pedals", 0, "kind"),
    ("pedals", 0, "ref"), ("pedals", 0, "width"), ("pedals", 0, "depth"), ("pedals", 0, "jacks", 0, "name"),
    ("pedals", 0, "jacks", 0, "role"), ("sources", 0, "ref"), ("amps", 0, "ref"),
    ("amps", 0, "jacks", 0, "name"), ("computers", 0, "ref"), ("computers", 0, "jacks", 0, "role"),
    ("cables", 0, "ref"), ("plugs", 0, "ref"), ("links", 0, "ref"), ("links", 0, "from"), ("links", 0, "to"),
    ("supplies", 0, "ref"), ("supplies", 0, "outlets", 0, "name"), ("feeds", 0, "from"), ("feeds", 0, "to"),
    ("drawer", 0, "kind"), ("pieces", 0, "ref"),
]  # fmt: skip


@pytest.mark.parametrize("keys", REQUIRED)
def test_a_required_key_is_missed_once_without_echoes(keys):
    pointer = "".join(f"/{key}" for key in keys)
    assert faults_of(without(keys)) == [(pointer, "is missing: it is required")]
    assert faults_of(changed(keys, None)) == [(pointer, "must not be null: it is required")]


def paths_of(shape, value, at=()):
    """Every key that the document gives a value, with whether the table requires it."""
    if isinstance(shape, Record):
        for key, item in shape.fields.items():
            if isinstance(value, dict) and value.get(key) is not None:
                yield (*at, key), key in shape.required
                yield from paths_of(item, value[key], (*at, key))
    elif isinstance(shape, ListOf | OneOrMany) and isinstance(value, list):
        for number, item in enumerate(value):
            yield from paths_of(shape.item, item, (*at, number))
    elif isinstance(shape, OneOrMany):
        yield from paths_of(shape.item, value, at)


def test_the_full_document_uses_every_key_there_is():
    used = {
        tuple(key for key in keys if isinstance(key, str)) for keys, _ in paths_of(BOARD, full_document())
    }

    def every(shape, at=()):
        if isinstance(shape, Record):
            for key, item in shape.fields.items():
                yield (*at, key)
                yield from every(item, (*at, key))
        elif isinstance(shape, ListOf | OneOrMany):
            yield from every(shape.item, at)

    assert set(every(BOARD)) - used == set()


OTHERS_LEAN_ON = {("pedals", "jacks"), ("pedals",), ("supplies",), ("sources",), ("cables",), ("plugs",)}
"""Lists that links, feeds and the like name members of: without them those names lead nowhere."""


@pytest.mark.parametrize(
    "edit", [lambda o, k: o.pop(k), lambda o, k: o.update({k: None})], ids=["gone", "null"]
)
def test_everything_else_may_be_absent_or_null(edit):
    optional = [keys for keys, required in paths_of(BOARD, full_document()) if not required]
    assert len(optional) > 200
    for keys in optional:
        names = tuple(key for key in keys if isinstance(key, str))
        if (
            names in OTHERS_LEAN_ON
            or names == ("supplies", "outlets")
            or keys == ("pedals", 1, "power", 0, "name")
        ):
            continue
        load(edited(keys, edit))


def test_every_list_that_others_lean_on_may_be_absent_with_them():
    for key in ("pedals", "supplies", "sources", "cables", "plugs", "links", "amps"):
        leaning = {"links", "feeds", "stock", "pieces", "scenes"}
        load({k: v for k, v in full_document().items() if k != key and k not in leaning})


UNKNOWN_KEYS = [
    ("colour",), ("frame", "Width"), ("frame", "under", "middle"), ("pedals", 0, "with2"), ("rules", "gap"),
    ("pedals", 0, "power", "volts"), ("supplies", 0, "outlets", 0, "mv"), ("feeds", 0, "lead", "gauge"),
    ("links", 0, "note"), ("a/b~c",),
]  # fmt: skip


@pytest.mark.parametrize("keys", UNKNOWN_KEYS)
def test_an_unknown_key_is_refused_at_itself(keys):
    ((at, told),) = faults_of(changed(keys, 1))
    assert told.startswith("is an unknown key")
    assert value_at(changed(keys, 1), at) == 1


def test_a_misspelt_key_is_answered_with_the_near_one():
    assert faults_of(changed(("frame", "widht"), 1)) == [
        ("/frame/widht", 'is an unknown key; "width" may be meant')
    ]


def test_the_two_settings_of_one_outlet_are_refused_at_the_later():
    document = full_document()
    document["feeds"].append({"from": "s1.1", "to": "P2.DC 2", "setting": 12000})
    assert faults_of(document) == [
        ("/feeds/2/setting", "S1.1 cannot have two settings: 9000 mV before, 12000 mV here")
    ]
    document["feeds"][2]["setting"] = None
    assert load(document)


def test_settings_stand_beside_their_outlets():
    document = full_document()
    document["feeds"][0] |= {"from": ["S1.1", "S1.2"], "setting": [9000, None]}
    assert load(document).feeds[0].settings == (9000, None)
    document["feeds"][0]["setting"] = [9000]
    assert faults_of(document) == [("/feeds/0/setting", "lists 1 settings beside 2 outlets")]
    document["feeds"][0] |= {"from": ["S1.1", "s1.1"], "setting": 9000}
    assert faults_of(document) == [("/feeds/0/from/1", "S1.1 is named twice in one feed")]


WRONG_WAYS = [
    ("P1.IN", "P2.OUT"),
    ("P1.OUT", "P2.OUT"),
    ("G1.OUT", "P2.MIDI IN"),
    ("P3.MIDI OUT", "A1.RETURN"),
] + [
    ("P1.OUT", "P1.DC"),
    ("M1.USB", "A1.IN"),
    ("A1.RETURN", "A1.SEND"),
]


@pytest.mark.parametrize(("source", "target"), WRONG_WAYS)
def test_a_link_leads_from_an_output_to_an_input(source, target):
    document = full_document()
    document["links"] = [{"ref": "W9", "from": source, "to": target}]
    ((at, told),) = faults_of(document)
    assert at == "/links/0"
    assert "must lead from an output to an input" in told
    assert source in told
    assert target in told


RIGHT_WAYS = [
    ("G1.OUT", "P1.IN"),
    ("P1.OUT", "A1.RETURN"),
    ("A1.SEND", "P2.IN"),
    ("A1.SEND", "A1.RETURN"),
] + [("P3.MIDI OUT", "P2.MIDI IN")]


@pytest.mark.parametrize(("source", "target"), RIGHT_WAYS)
def test_an_output_may_lead_to_any_input(source, target):
    document = full_document()
    document["links"] = [{"ref": "W9", "from": source.lower(), "to": target.lower()}]
    assert (load(document).links[0].source, load(document).links[0].target) == (source, target)


def test_one_output_may_feed_two_inputs():
    document = full_document()
    document["links"] = [
        {"ref": "W1", "from": "P1.OUT", "to": "P2.IN"},
        {"ref": "W2", "from": "P1.OUT", "to": "A1.IN"},
    ]
    assert len(load(document).links) == 2


def test_a_bad_thing_still_lends_its_name_to_others():
    # Bad width, bad jack role, bad ref: the links, feeds, scenes that name them are not blamed too.
    assert len(faults_of(changed(("pedals", 0, "width"), -1))) == 1
    assert len(faults_of(changed(("pedals", 1, "jacks"), "two"))) == 1
    assert len(faults_of(changed(("pedals", 1, "jacks", 0), 3))) == 1
    assert len(faults_of(changed(("supplies", 0, "outlets", 2), 3))) == 1
    assert len(faults_of(changed(("pedals",), "three"))) == 1
    assert len(faults_of(changed(("cables", 0, "ref"), 3))) == 1


def test_a_name_that_could_not_be_read_hides_no_other_kind_of_fault():
    document = changed(("pedals", 0, "ref"), 3)
    document["links"][1]["cable"] = "C9"
    assert [at for at, _ in faults_of(document)] == ["/pedals/0/ref", "/links/1/cable"]


def test_all_faults_are_listed_in_the_order_of_the_document():
    bad = [row for row in VALUES if row[0][0] in ("frame", "cables", "stock", "rules")]
    document, spots = full_document(), {}
    for keys, value, _ in random.Random(3).sample(bad, len(bad)):
        owner = document
        for key in keys[:-1]:
            owner = owner[key]
        if "together_mm" not in keys and "cable" not in keys and not (keys[0] == "cables" and "ref" in keys):
            owner[keys[-1]] = value
            spots["".join(f"/{key}" for key in keys)] = None
    pointers = [at for at, _ in faults_of(document)]
    assert sorted(pointers) == sorted(spots)
    text = json.dumps(document)
    sections = [pointer.split("/")[1] for pointer in pointers]
    assert sections == sorted(sections, key=lambda name: text.index(f'"{name}"'))


def test_a_file_of_nothing_but_unknown_keys_is_refused():
    document = small_document() | {f"k{number}": number for number in range(30_000)}
    found = faults_of(document)
    assert [pointer for pointer, _ in found] == [f"/k{number}" for number in range(30_000)]


@pytest.mark.parametrize(("number", "refused"), [(999, False), (1000, False), (1001, True)])
def test_more_pedals_than_could_be_judged_pair_by_pair_are_refused(number, refused):
    """Limit of this program, not of the format."""
    pedals = [{"ref": f"P{n}", "kind": "delay", "width": 70, "depth": 120} for n in range(number)]
    document = small_document() | {"pedals": pedals, "links": [], "feeds": []}
    if refused:
        assert faults_of(document) == [("/pedals", "has 1,001 entries; at most 1,000 are read")]
    else:
        assert len(load(document).pedals) == number
