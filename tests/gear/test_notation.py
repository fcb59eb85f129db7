"""The compact cells: what a technician types is read, and what is shown is read back the same."""

from datetime import date

import pytest
from hypothesis import given
from hypothesis import strategies as st

from boardshop.core import plan as core
from boardshop.core import vocabulary as words
from boardshop.gear.notation import bands, jacks, power
from boardshop.gear.notation.leads import read_leads, show_leads
from boardshop.gear.notation.scanning import NotationError
from boardshop.gear.records import Draw

NAME = st.from_regex(r"\A[^.\s\x00-\x1f]{1,20}\Z")
AMOUNT = st.none() | st.integers(0, 1_000_000)
FLAG = st.none() | st.booleans()


def word(allowed: tuple[str, ...]) -> st.SearchStrategy[str | None]:
    return st.none() | st.sampled_from(allowed)


JACK = st.builds(
    core.Jack,
    name=NAME,
    role=st.sampled_from(words.JACK_ROLES),
    side=word(words.SIDES),
    offset=AMOUNT,
    height=AMOUNT,
    connector=word(words.CONNECTORS),
    channels=word(words.CHANNELS),
)
POWER_JACK = st.builds(
    core.PowerJack,
    name=NAME,
    current=word(words.CURRENTS),
    nominal=AMOUNT,
    min=AMOUNT,
    max=AMOUNT,
    polarity=word(words.POLARITIES),
    ground_pole=word(words.GROUND_POLES),
    connector=word(words.CONNECTORS),
    rated=AMOUNT,
    peak=AMOUNT,
    sag=FLAG,
    share=word(words.SHARES),
)
SETTING = st.builds(
    lambda low, more, limit: core.OutletSetting(low, low + more, limit),
    st.integers(1, 300_000),
    st.integers(0, 3000),
    AMOUNT,
)
OUTLET = st.builds(
    core.Outlet,
    name=NAME,
    current=word(words.CURRENTS),
    settings=st.lists(SETTING, max_size=3).map(tuple),
    polarity=word(words.POLARITIES),
    connector=word(words.CONNECTORS),
    regulated=FLAG,
    sag=FLAG,
    group=st.none() | st.text(st.characters(categories=["L", "N", "P", "Zs"]), min_size=1, max_size=20),
    group_max_ma=AMOUNT,
    parallel_ok=FLAG,
    series_ok=FLAG,
)


@pytest.mark.parametrize(
    ("text", "jack"),
    [
        ("IN in right 60", core.Jack("IN", "in", "right", 60)),
        ("OUT output, left, 60 mm", core.Jack("OUT", "out", "left", 60)),
        ('IN in right 2.4"', core.Jack("IN", "in", "right", 61)),
        ("IN in right 2 3/8 in h 1 in", core.Jack("IN", "in", "right", 60, 25)),
        ("OUT_L out rear 12,5 6.35 TS mono", core.Jack("OUT_L", "out", "rear", 13, None, "6.35 TS", "mono")),
        ("EXP exp 3.5 mono", core.Jack("EXP", "control", connector="3.5 mono")),
        ("TAP control top 10 6.35mm TRS", core.Jack("TAP", "control", "rear", 10, None, "6.35 TRS")),
        ("M midi in DIN5", core.Jack("M", "midi-in", connector="DIN 5")),
        ("OUT left 60", core.Jack("OUT", "out", "left", 60)),
        ('"A;B" in right 5', core.Jack("A;B", "in", "right", 5)),
    ],
)
def test_a_jack_as_typed(text: str, jack: core.Jack) -> None:
    assert jacks.read_jacks(text, "mm") == (jack,)


def test_jacks_are_parted_by_semicolons_bars_or_lines() -> None:
    read = jacks.read_jacks("IN in right 60; OUT out left 60 |\n DC power rear 20\n\n", "mm")
    assert [(jack.name, jack.role, jack.offset) for jack in read] == [
        ("IN", "in", 60),
        ("OUT", "out", 60),
        ("DC", "power", 20),
    ]


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("LEFT right 60", "Jack LEFT has no role"),
        ("IN in sideways 60", "“sideways” is not understood here"),
        ("IN in right left", "“left” says the same a second time"),
        ("A.B in right", "no jack's name"),
        ("IN in 1,250 mm", "leave the separator out"),
        ("IN in right 6e3", "“6e3” is not understood"),
    ],
)
def test_a_jack_that_cannot_be_read_says_why(text: str, says: str) -> None:
    with pytest.raises(NotationError, match=says.replace("(", r"\(")):
        jacks.read_jacks(text, "mm")


@pytest.mark.parametrize(
    ("text", "jack"),
    [
        ("9V 100mA", core.PowerJack("DC", nominal=9000, rated=100)),
        (
            "9VDC, 0.1 A, centre negative",
            core.PowerJack("DC", "dc", 9000, polarity="centre-negative", rated=100),
        ),
        (
            "DC1: 9-18 V 300 mA C-",
            core.PowerJack("DC1", None, 9000, max=18000, polarity="centre-negative", rated=300),
        ),
        ("9V (8–9.6V) peak 150mA", core.PowerJack("DC", nominal=9000, min=8000, max=9600, peak=150)),
        # a range that begins at the label's volts is one of the supply and no least at the jack
        ("9V 9-18V", core.PowerJack("DC", nominal=9000, max=18000)),
        ("9-18V least 8V", core.PowerJack("DC", nominal=9000, min=8000, max=18000)),
        ("least 9000 mV positive ground", core.PowerJack("DC", min=9000, ground_pole="positive")),
        (
            "12V AC 5.5x2.5 share never starve no",
            core.PowerJack("DC", "ac", 12000, connector="barrel 5.5/2.5", sag=False, share="never"),
        ),
        ("9,6 V tip positive", core.PowerJack("DC", nominal=9600, polarity="centre-positive")),
    ],
)
def test_a_power_jack_as_typed(text: str, jack: core.PowerJack) -> None:
    assert power.read_power_jacks(text) == (jack,)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("9-18V most 12V", "stand twice"),
        ("12V 9-18V least 8V", "stand twice"),
        ("18-9V", "write the lower one first"),
        ("9V 0.3mA", "write 300 mA or 0.3 A"),
        ("9V peak 1,200 mA", "write 1200 or 1.2"),
    ],
)
def test_a_power_jack_that_cannot_be_read_says_why(text: str, says: str) -> None:
    with pytest.raises(NotationError, match=says):
        power.read_power_jacks(text)


def test_several_power_jacks_need_names() -> None:
    with pytest.raises(NotationError, match="need their names"):
        power.read_power_jacks("9V 100mA; 12V 200mA")


@pytest.mark.parametrize(
    ("text", "settings"),
    [
        ("9 V 500 mA; 18 V 250 mA", ((9000, 9000, 500), (18000, 18000, 250))),
        ("9V 500mA or 12V 300mA", ((9000, 9000, 500), (12000, 12000, 300))),
        ("9-12 V 300 mA", ((9000, 12000, 300),)),
        ("9 V", ((9000, 9000, None),)),
        ("9,6V / 0.5 A", ((9600, 9600, 500),)),
        ("", ()),
    ],
)
def test_settings_as_typed(text: str, settings: tuple[tuple[int, int, int | None], ...]) -> None:
    assert power.read_settings(text) == tuple(core.OutletSetting(*setting) for setting in settings)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("500 mA", "“500” is not understood here; write volts"),
        ("12-9 V 300 mA", "write the lower one first"),
        ("0 V 300 mA", "above zero"),
        ("9 V 500 mW", "“500” is not understood"),
        ("9 V 0,3 mA", "write 300 mA or 0.3 A"),
        ("9 V 1.200 mA", "write 1200 or 1.2"),
    ],
)
def test_settings_that_cannot_be_read_say_why(text: str, says: str) -> None:
    with pytest.raises(NotationError, match=says):
        power.read_settings(text)


def test_an_outlet_as_typed() -> None:
    text = "4: 9V 500mA or 12V 300mA, dc, center negative, 2.1 mm, group A, group max 1000mA, parallel no"
    assert power.read_outlets(text) == (
        core.Outlet(
            name="4",
            current="dc",
            settings=(core.OutletSetting(9000, 9000, 500), core.OutletSetting(12000, 12000, 300)),
            polarity="centre-negative",
            connector="barrel 5.5/2.1",
            group="A",
            group_max_ma=1000,
            parallel_ok=False,
        ),
    )


@pytest.mark.parametrize(
    ("text", "says"), [("9V 500mA", "its name and a colon"), ("1: isolated group A", "cannot be isolated")]
)
def test_an_outlet_that_cannot_be_read_says_why(text: str, says: str) -> None:
    with pytest.raises(NotationError, match=says):
        power.read_outlets(text)


def test_frames_bands_and_boxes_as_typed() -> None:
    assert bands.read_rails("20 to 90; 110-180 mm", "mm") == (core.Rail(20, 90), core.Rail(110, 180))
    assert bands.read_tiers("0 to 15 cm; 150 to 300 height 40", "mm") == (
        core.Tier(0, 150, 0),
        core.Tier(150, 300, 40),
    )
    assert bands.read_keepouts("100 x 50 at 10, 20: handle", "mm") == (
        core.Keepout(10, 20, 100, 50, "handle"),
    )
    assert bands.read_draws("98 mA; AUX 12") == (Draw(measured=98), Draw(jack="AUX", measured=12))


@given(st.lists(JACK, max_size=4).map(tuple))
def test_jacks_survive(given_jacks: tuple[core.Jack, ...]) -> None:
    assert jacks.read_jacks(jacks.show_jacks(given_jacks), "in") == given_jacks


@given(st.lists(POWER_JACK, max_size=3).map(tuple))
def test_power_jacks_survive(given_jacks: tuple[core.PowerJack, ...]) -> None:
    assert power.read_power_jacks(power.show_power_jacks(given_jacks)) == given_jacks


@given(st.lists(OUTLET, max_size=3).map(tuple))
def test_outlets_survive(outlets: tuple[core.Outlet, ...]) -> None:
    assert power.read_outlets(power.show_outlets(outlets)) == outlets


POINT = st.builds(core.Point, st.integers(0, 999), st.integers(0, 999))
BOX = st.builds(
    core.Keepout,
    *[st.integers(0, 99)] * 2,
    *[st.integers(1, 99)] * 2,
    st.text(st.characters(exclude_categories=["C"])).map(str.strip),
)


@given(st.lists(POINT).map(tuple), st.lists(BOX, max_size=3).map(tuple))
def test_switches_and_boxes_survive(points: tuple[core.Point, ...], boxes: tuple[core.Keepout, ...]) -> None:
    assert jacks.read_switches(jacks.show_switches(points), "cm") == points
    assert bands.read_keepouts(bands.show_keepouts(boxes), "cm") == boxes


DRAW = st.builds(
    Draw,
    jack=NAME,
    measured=st.integers(0, 5000),
    on=st.none() | st.dates(min_value=date(1950, 1, 1)),
    by=st.text(st.characters(exclude_categories=["C"]), max_size=30).map(str.strip),
)


@given(st.lists(DRAW, max_size=3).map(tuple))
def test_draws_survive(draws: tuple[Draw, ...]) -> None:
    assert bands.read_draws(bands.show_draws(draws)) == draws


@given(st.text(st.characters(exclude_categories=["Cs"]), max_size=60))
def test_any_text_is_read_or_refused(text: str) -> None:
    for read in (power.read_power_jacks, power.read_outlets, power.read_settings, bands.read_draws):
        try:
            read(text)
        except NotationError as error:
            assert str(error)  # noqa: PT017
    for read_lengths in (jacks.read_jacks, jacks.read_switches, bands.read_rails, bands.read_keepouts):
        try:
            read_lengths(text, "mm")
        except NotationError as error:
            assert str(error)  # noqa: PT017


@pytest.mark.parametrize(
    ("text", "leads"),
    [
        ("4 x 450mm AWG 22 barrel 5.5/2.1", (core.SupplyLead(450, 22, None, "barrel 5.5/2.1", 4),)),
        ("4×450 22AWG", (core.SupplyLead(450, 22, count=4),)),
        ("0,34mm² 45cm", (core.SupplyLead(450, mm2=0.34),)),
        ("1 x", (core.SupplyLead(),)),
        ("snap; 2 x 18in", (core.SupplyLead(connector="snap"), core.SupplyLead(457, count=2))),
    ],
)
def test_leads_are_read(text, leads):
    assert read_leads(text, "mm") == leads
    assert read_leads(show_leads(leads), "in") == leads


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("four of them", "“four” is not understood here; leads take how many"),
        ("0 x 450mm", "has a zero in it"),
        ("4 x 0mm", "has a zero in it"),
        ("AWG 57", "write AWG 0 to 56"),
        ("450mm 300mm", "says the same a second time"),
    ],
)
def test_what_is_no_lead_is_refused(text, says):
    with pytest.raises(NotationError, match=says):
        read_leads(text, "mm")
