"""The build sheet, read back from the PDF: every number on it is core's."""

from dataclasses import replace

import pytest
from django.urls import reverse

from boardshop.boards.models import Board
from boardshop.boards.plan.read import load_plan
from boardshop.boards.plan.write import store_plan
from boardshop.core.cables import compute_cables
from boardshop.core.plan import Accepted, BoardPlan, DcLead, Frame, Jack
from boardshop.core.power import compute_power
from boardshop.core.report import compute_report
from boardshop.ops.demo.boards import TALLOW_LEFT, TALLOW_RIGHT
from boardshop.ops.demo.build import build
from boardshop.papers import pdf
from tests.core import builders as b
from tests.core.feeding_cases import drawing
from tests.factories import Cast
from tests.papers.printed import Printed, beyond_margin, read_pdf

pytestmark = pytest.mark.django_db


def demo_board(cast: Cast) -> Board:
    return store_plan(cast.shop, build(TALLOW_RIGHT), name="Tallow right")


def printed(cast: Cast, board: Board) -> Printed:
    answer = cast.browser("viewer").get(reverse("build-sheet", args=[board.code]))
    assert answer["Content-Type"] == "application/pdf"
    return read_pdf(answer.content)


def test_it_is_on_the_shops_paper(cast: Cast) -> None:
    first, *others = printed(cast, demo_board(cast)).sizes_mm
    assert first == (297.0, 210.0)
    assert set(others) == {(210.0, 297.0)}


def test_letter_paper(cast: Cast) -> None:
    cast.shop.paper = "Letter"
    cast.shop.save()
    first, *others = printed(cast, demo_board(cast)).sizes_mm
    assert first == (279.4, 215.9)
    assert set(others) == {(215.9, 279.4)}


def test_only_the_bundled_type_is_used(cast: Cast) -> None:
    assert all(name.startswith("Atkinson-Hyperlegible") for name in printed(cast, demo_board(cast)).fonts)


def test_every_cut_and_capacitance_is_cores(cast: Cast) -> None:
    board = demo_board(cast)
    text, runs = printed(cast, board).text, compute_cables(load_plan(board)).runs
    assert runs
    for run in runs:
        assert f"{run.cut_mm} mm" in text
        assert str(run.pf) in text


def test_a_sum_of_power_that_leaves_something_out_is_called_the_least(cast: Cast) -> None:
    pedals = [drawing(50, "P1"), drawing(None, "P2")]
    feeds = [b.feed("S1.1", "P1.DC"), b.feed("S1.2", "P2.DC")]
    plan = b.board(*pedals, supplies=[b.supply("S1")], feeds=feeds)
    text = printed(cast, store_plan(cast.shop, plan, name="Nightjar main")).text
    assert "at least 450 mW" in text
    assert "at least 0 mA" in text


def test_every_load_is_cores(cast: Cast) -> None:
    board = demo_board(cast)
    text = printed(cast, board).text
    for row in compute_power(load_plan(board)).outlets:
        if row.feeds:
            assert f"{row.load_ma} mA {row.limit_ma} mA {row.load_percent} %" in text


def test_what_is_kept_on_purpose_prints_with_its_reason(cast: Cast) -> None:
    kept: Accepted = TALLOW_RIGHT.accepted[0]
    assert f"Kept on purpose: {kept.why} ({kept.by}, {kept.on})" in printed(cast, demo_board(cast)).text


def test_the_drawing_is_drawn_not_printed_as_text(cast: Cast) -> None:
    text = printed(cast, demo_board(cast)).text
    assert "<svg" not in text
    assert "player stands here" in text


def test_the_cautions_are_on_it(cast: Cast) -> None:
    text = printed(cast, demo_board(cast)).text
    assert "Never lift, cut or tape away a protective earth" in text
    assert "declares nothing safe" in text


def test_the_largest_demo_board_prints(cast: Cast) -> None:
    board = store_plan(cast.shop, build(TALLOW_LEFT), name="Tallow left")
    text = printed(cast, board).text
    assert "P05" in text
    assert "Damage" in text


def test_the_first_sheet_holds_the_drawing_and_every_caution(cast: Cast) -> None:
    board = store_plan(cast.shop, build(TALLOW_LEFT), name="Tallow left")
    across = [size for size in printed(cast, board).sizes_mm if size == (297.0, 210.0)]
    assert len(across) == 1


def test_an_empty_board_prints(cast: Cast) -> None:
    board = store_plan(cast.shop, BoardPlan(frame=Frame(500, 300)), name="Bare plank")
    assert "Bare plank" in printed(cast, board).text


def test_a_stranger_gets_404(cast: Cast) -> None:
    url = reverse("build-sheet", args=[demo_board(cast).code])
    assert cast.browser("stranger").get(url).status_code == 404


def test_it_only_reads(cast: Cast) -> None:
    url = reverse("build-sheet", args=[demo_board(cast).code])
    assert cast.browser("owner").post(url).status_code == 405


def test_what_must_be_cured_before_power_stands_on_the_first_sheet(cast: Cast) -> None:
    plan = b.wired_board(b.pedal("P1"), amps=(b.amp("A1", protection_class="I", earthed=False),))
    text = printed(cast, store_plan(cast.shop, plan, name="Main")).text
    assert text.index("Cure these before anything is switched on: Danger P21 A1.") < text.index("Cautions")


def test_volts_and_polarity_stand_on_both_sides_of_a_feed(cast: Cast) -> None:
    plan = b.wired_board(b.pedal("P1"), supplies=[b.supply("S1")], feeds=[b.feed("S1.1", "P1.DC")])
    text = printed(cast, store_plan(cast.shop, plan, name="Main")).text
    assert "S1.1 · 9 V DC, centre-negative" in text.replace(
        "- ", "-"
    )  # the hyphen may end a line of the cell
    assert "9 V, DC, centre-negative, negative ground" in text


def test_outlets_in_series_tell_their_sum(cast: Cast) -> None:
    feed = b.feed(["S1.1", "S1.2"], "P1.DC", adapters=("series",))
    plan = b.wired_board(b.pedal("P1"), supplies=[b.supply("S1")], feeds=[feed])
    text = printed(cast, store_plan(cast.shop, plan, name="Main")).text
    assert text.count("18 V together") == 1


def test_a_lead_prints_with_its_gauge_and_connector(cast: Cast) -> None:
    leads = (
        DcLead(length=500, awg=24, connector="barrel 5.5/2.1"),
        DcLead(length=400, mm2=0.22, connector="barrel 5.5/2.5"),
        DcLead(),
    )
    feeds = [b.feed(f"S1.{n}", f"P{n}.DC", lead=lead) for n, lead in enumerate(leads, 1)]
    plan = b.wired_board(*(b.pedal(f"P{n}") for n in (1, 2, 3)), supplies=[b.supply("S1")], feeds=feeds)
    text = printed(cast, store_plan(cast.shop, plan, name="Main")).text
    assert "500 mm, AWG 24, barrel 5.5/2.1" in text
    assert "400 mm, 0.22 mm², barrel 5.5/2.5" in text
    assert text.count("gauge not recorded") == 1


def test_plugs_to_fit_bear_their_name_and_then_their_code(cast: Cast) -> None:
    plan = b.wired_board(b.pedal("P1"), plugs=(b.plug_type("J1", name="Flat right-angle"),))
    plan = replace(plan, links=tuple(replace(one, plug_from="J1", plug_to="J1") for one in plan.links))
    text = printed(cast, store_plan(cast.shop, plan, name="Main")).text
    assert "Flat right-angle (J1): 4 to fit." in text  # two links, a plug at each end


def test_ends_without_a_plug_are_said_to_lack_one(cast: Cast) -> None:
    plan = b.wired_board(b.pedal("P1"), b.pedal("P2"), plugs=(b.plug_type("J1"),))
    first, middle, given = plan.links
    bare = {"plug_from": None, "plug_to": None}
    links = (replace(first, **bare), replace(middle, plug_from="J1", plug_to=None), replace(given, **bare))
    links = (*links[:2], replace(links[2], length=3000))  # a bought lead comes with its plugs
    text = printed(cast, store_plan(cast.shop, replace(plan, links=links), name="Main")).text
    assert "3 ends without a plug chosen." in text
    links = tuple(replace(one, plug_from="J1", plug_to="J1") for one in plan.links)
    whole = store_plan(cast.shop, replace(plan, links=links), name="Whole")
    assert "without a plug chosen" not in printed(cast, whole).text


def test_a_lead_prints_with_its_plug(cast: Cast) -> None:
    lead = DcLead(length=500, awg=24, connector="barrel 5.5/2.1", plug="J9")
    plan = b.wired_board(
        b.pedal("P1"),
        supplies=[b.supply("S1")],
        feeds=[b.feed("S1.1", "P1.DC", lead=lead)],
        plugs=(b.plug_type("J1"), b.dc_plug_type("J9", name="Straight barrel")),
    )
    text = printed(cast, store_plan(cast.shop, plan, name="Main")).text
    assert "500 mm, AWG 24, barrel 5.5/2.1, Straight barrel (J" in text


def test_what_repeats_is_said_once_and_names_everything(cast: Cast) -> None:
    pedals = [b.draws(b.pedal(f"P{n}"), rated=None) for n in (1, 2, 3)]
    feeds = [b.feed(f"S1.{n}", f"P{n}.DC") for n in (1, 2, 3)]
    plan = b.wired_board(*pedals, supplies=[b.supply("S1")], feeds=feeds)
    text = printed(cast, store_plan(cast.shop, plan, name="Main")).text
    said = text[text.index("3 times: Not recorded: the draw of") :]
    assert all(ref in said[:200] for ref in ("P1.DC", "P2.DC", "P3.DC"))
    assert text.count("P27") == 1


def test_loops_are_one_entry_that_lists_each_of_them(cast: Cast) -> None:
    # a MIDI cord beside each signal cord, both with a screen: four small loops
    jacks = (*b.signal_jacks(), Jack("MI", "midi-in"), Jack("MO", "midi-out"))
    plan = b.wired_board(*(b.pedal(f"P{n}", "delay", jacks=jacks) for n in (1, 2, 3, 4, 5)))
    beside = [b.link(f"X{n}", f"P{n}.MO", f"P{n + 1}.MI", carries="midi") for n in (1, 2, 3, 4)]
    plan = replace(plan, links=(*plan.links, *beside))
    loops = [one for one in compute_report(plan, cut_seconds=0).findings if one.rule == "G01"]
    assert len(loops) == 4
    text = printed(cast, store_plan(cast.shop, plan, name="Main")).text
    assert text.count("G01") == 1
    assert all(f"(through W{n + 1}, X{n})" in text for n in (1, 2, 3, 4))


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_a_name_without_a_break_stays_on_the_sheet(cast: Cast, paper: str) -> None:
    cast.shop.paper = paper
    cast.shop.save()
    feeds = [b.feed("S1.1", "P1.DC"), b.feed("S1.2", "P2.DC")]
    plan = b.wired_board(b.pedal("P1", name="M" * 70), b.pedal("P2"), supplies=[b.supply("S1")], feeds=feeds)
    board = store_plan(cast.shop, plan, name="Main")
    data = cast.browser("viewer").get(reverse("build-sheet", args=[board.code])).content
    assert beyond_margin(data, 14) == ""


def test_without_pango_it_says_what_to_install(cast: Cast, monkeypatch: pytest.MonkeyPatch) -> None:
    def missing() -> None:
        raise pdf.PapersUnavailable

    monkeypatch.setattr(pdf, "_load_weasyprint", missing)
    answer = cast.browser("viewer").get(reverse("build-sheet", args=[demo_board(cast).code]))
    assert (answer.status_code, "libpango-1.0-0" in answer.text) == (503, True)


def test_a_missing_file_is_an_error_not_a_gap() -> None:
    page = pdf._load_weasyprint().HTML(string='<img src="file:///no/such/picture.png">')
    with pytest.raises(pdf.PaperIncomplete, match="picture"), pdf._no_gaps():
        page.write_pdf()
