"""Board files with something changed at random: each is taken, or refused with places that are in it."""

import copy
import json
from random import Random

import pytest

from boardshop.core.boardfile import RefusedBoardFile, dump_plan, load_plan_text
from tests.core.documents import FULL, load, value_at
from tests.core.random_boards import random_document

VALUES = (
    None,
    True,
    False,
    -1,
    0,
    1,
    45,
    1.5,
    1e400,
    10**12,
    "",
    "x",
    "P1",
    "p1.in",
    "S1.1",
    "\ud800",
    [],
    {},
    [None],
)


def containers(value):
    """Every object and list in a document that has something in it."""
    if isinstance(value, dict | list) and value:
        yield value
        for item in value.values() if isinstance(value, dict) else value:
            yield from containers(item)


def mutate(draw, document):
    """Drop, replace, repeat, swap or add something somewhere."""
    owner = draw.choice(list(containers(document)))
    key = draw.choice(list(owner) if isinstance(owner, dict) else range(len(owner)))
    match draw.randrange(5):
        case 0:
            owner.pop(key)
        case 1:
            owner[key] = copy.deepcopy(draw.choice(VALUES))
        case 2:
            other = draw.choice(list(containers(document)))
            if not isinstance(owner, dict):
                owner.append(copy.deepcopy(owner[key]))
            elif isinstance(other, dict) and key in other:
                owner[key] = copy.deepcopy(other[key])
        case 3:
            another = draw.choice(list(owner) if isinstance(owner, dict) else range(len(owner)))
            owner[key], owner[another] = owner[another], owner[key]
        case _:
            if isinstance(owner, dict):
                owner[draw.choice(["with", "colour", "mv", "place", "a/b~c", "min"])] = draw.choice(VALUES)


def read(text):
    """The plan and no fault, or no plan and the faults."""
    try:
        return load_plan_text(text), ()
    except RefusedBoardFile as refusal:
        return None, refusal.faults


def judge(document):
    """How many faults; each names a place of the document, or one missing in it, on a line of its own."""
    plan, faults = read(json.dumps(document))
    if plan is not None:
        assert load(dump_plan(plan)) == plan
    else:
        assert faults
    for fault in faults:
        missing = fault.message == "is missing: it is required"
        value_at(document, fault.pointer.rpartition("/")[0] if missing else fault.pointer)
        assert len(str(fault).encode().splitlines()) == 1
    assert len(set(faults)) == len(faults)
    return len(faults)


@pytest.mark.parametrize("seed", range(8))
def test_the_full_document_changed_at_random(seed):
    draw, faults = Random(seed), []
    for _ in range(60):
        document = copy.deepcopy(FULL)
        for _ in range(draw.randint(1, 4)):
            mutate(draw, document)
        faults.append(judge(document))
    assert 0 in faults
    assert max(faults) > 2


@pytest.mark.parametrize("seed", range(60))
def test_random_boards_changed_at_random(seed):
    draw = Random(seed)
    document = random_document(seed, 0.9)
    assert judge(document) == 0
    for _ in range(5):
        mutate(draw, document)
    judge(document)


def test_text_cut_short_anywhere_is_refused():
    text = json.dumps(FULL, ensure_ascii=False).encode()
    for end in range(0, len(text), 97):
        with pytest.raises(RefusedBoardFile):
            load_plan_text(text[:end])


@pytest.mark.parametrize("seed", range(40))
def test_bytes_changed_at_random_never_break_the_loader(seed):
    draw = Random(seed)
    text = bytearray(json.dumps(FULL).encode())
    for _ in range(draw.randint(1, 5)):
        text[draw.randrange(len(text))] = draw.randrange(256)
    plan, faults = read(bytes(text))
    assert (plan is None) == bool(faults)
