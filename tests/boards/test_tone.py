"""`tone`: every state of every instrument in figures, curves, bars; and what if, by an address alone."""

import re
from html import unescape
from typing import Any
from urllib.parse import parse_qsl

import pytest
from django.http import HttpResponse
from django.urls import reverse

from boardshop.boards.models import Board
from boardshop.boards.pages.tone_words import say_db, say_hz, say_peak, say_pickup, say_resonance
from boardshop.core.boardfile import dump_plan
from boardshop.core.plan import Scene
from boardshop.core.tone import compute_tone
from boardshop.core.tone.comparing import TABLE_HZ, plot_responses
from boardshop.core.tone.later import list_later_stages
from boardshop.core.tone.states import list_states
from boardshop.core.tone.trying import AddedBuffer, OtherCable, OtherLength, tell_states, try_tone
from boardshop.gear.models import CableType
from tests.board_factories import make_board, plan_of
from tests.boards.contract import HTMX
from tests.boards.page_contract import PageContract
from tests.core import builders as b
from tests.factories import Cast

LEADS = tuple(b.chain("G1", "P1", "P2", "A1", length=3000))
PEDALS = [b.pedal("P1", name="Low Ember"), b.pedal("P2", name="Tall Reed", on=True)]


def words(answer: HttpResponse) -> str:
    """What a person reads."""
    plain = re.sub(r"<(style|script)\b.*?</\1>", "", answer.text, flags=re.DOTALL)
    return " ".join(unescape(re.sub(r"<[^>]+>", " ", plain)).split())


class TestTone(PageContract):
    name = "tone"
    most_queries = 10  # the shop's cable types for the what if

    @pytest.fixture
    def long_board(self, cast: Cast) -> Board:
        scenes = (Scene("clean"), Scene("solo", ("P1",)))
        return make_board(cast.shop, PEDALS, links=LEADS, scenes=scenes)

    def look(self, cast: Cast, board: Board, query: Any = None, role: str = "viewer") -> HttpResponse:
        return cast.browser(role).get(self.url(board), query or {})

    def test_every_state_stands_there_with_cores_figures(self, cast: Cast, long_board: Board) -> None:
        plan = plan_of(long_board)
        (tone,) = self.look(cast, long_board).context["tones"]
        figures = tell_states(plan, plan.sources[0])
        assert [line.name for line in tone.lines] == ["all bypassed", "as used", "scene clean", "scene solo"]
        for line, one in zip(tone.lines, figures, strict=True):
            assert one.state is not None
            assert one.against is not None
            assert line.total == f"{one.state.pf} pF"
            assert (line.resonance, line.peak) == (say_resonance(one.state), say_peak(one.state))
            bare, usual = [a.no_cable_db for a in one.against], [a.reference_db for a in one.against]
            assert [level for _, level in line.against] == [f"{say_db(db)} dB" for db in (*bare, *usual)]

    def test_the_worked_example_is_on_the_page(self, cast: Cast) -> None:
        """Worked example (calculation): 1950 pF, peak 2145 +-10 Hz, +6.7 dB, 3 kHz +0.3, 5 kHz -11.9 dB."""
        pedals = [b.pedal(f"P{n}") for n in range(1, 9)]
        cables = (b.cable_type("C1", 100), b.cable_type("C2", 110))
        links = list(b.chain("G1", *(p.ref for p in pedals), "A1", length=200))
        links[0] = b.link("W1", "G1.OUT", "P1.IN", length=6000, cable="C2")
        links[-1] = b.link("W9", "P8.OUT", "A1.IN", length=9000, cable="C2")
        board = make_board(cast.shop, pedals, links=tuple(links), cables=cables)
        text = words(self.look(cast, board))
        found = "All bypassed 1950 pF strongly dull, a buffer is wanted 1 Mohm 2144 Hz +6.7 dB"
        assert f"{found} +0.3 dB −11.9 dB −3.1 dB −13.0 dB" in text

    def test_the_values_are_those_of_the_curves(self, cast: Cast, long_board: Board) -> None:
        plan = plan_of(long_board)
        (tone,) = self.look(cast, long_board).context["tones"]
        plot = plot_responses(plan, plan.sources[0])
        assert [hz for hz, _ in tone.response.values] == list(TABLE_HZ)
        for at, (_, levels) in enumerate(tone.response.values):
            assert list(levels) == [say_db(curve.values[at]) for curve in plot.curves]
        assert tone.response.heads == ("A", "B", "C", "no cable", "500 pF")

    def test_the_drawing_tells_its_curves_in_words(self, cast: Cast, long_board: Board) -> None:
        text = self.look(cast, long_board).text
        assert 'aria-describedby="response-G1-words"' in text
        assert "A, All bypassed, scene clean:" in text
        assert "frequency, Hz" in text
        assert "dB, relative to 100 Hz" in text

    def test_what_adds_how_much_sums_to_the_total(self, cast: Cast, long_board: Board) -> None:
        (tone,) = self.look(cast, long_board).context["tones"]
        assert [bar.states for bar in tone.bars] == ["All bypassed, scene clean", "As used", "Scene solo"]
        for bar in tone.bars:
            assert sum(int(piece.pf.split()[0]) for piece in bar.pieces) == int(bar.total.split()[0])
        first = [(piece.ref, piece.kind) for piece in tone.bars[0].pieces]
        assert first == [
            ("W1", "lead"),
            ("P1", "bypass wiring"),
            ("W2", "patch"),
            ("P2", "bypass wiring"),
            ("W3", "lead"),
            ("A1", "input"),
        ]
        assert 'class="response-bar"' in self.look(cast, long_board).text

    def test_the_stages_behind_stand_by_their_driver(self, cast: Cast, long_board: Board) -> None:
        plan = plan_of(long_board)
        (tone,) = self.look(cast, long_board).context["tones"]
        (stage,) = list_later_stages(list_states(plan)["G1"][1])
        (row,) = tone.later[0].rows
        assert tone.later[0].states == "As used"
        assert (row.driver, row.into, row.through) == ("Tall Reed (P2)", "A1 (the amp)", "W3")
        assert (row.pf, row.corner) == (f"{stage.pf} pF", say_hz(stage.corner_hz or 0))

    def test_the_two_sentences_stand_beside_the_figures(self, cast: Cast, board: Board) -> None:
        text = words(self.look(cast, board))
        assert "volume knob full up" in text
        assert "no single figure is the loss" in text
        assert "the guitar’s volume no longer" in text or "the guitar's volume no longer" in text

    def test_an_unknown_is_told_and_no_curve_drawn(self, cast: Cast) -> None:
        board = make_board(cast.shop, PEDALS, links=LEADS, sources=(b.guitar(pickup=None),))
        answer = self.look(cast, board)
        (tone,) = answer.context["tones"]
        assert tone.response is None
        assert tone.lines[0].resonance == tone.lines[0].against[0][1] == "unknown"
        assert "No curve can be drawn" in answer.text
        half = make_board(
            cast.shop, [b.pedal("P1", bypass=None)], links=b.chain("G1", "P1", "A1", length=100)
        )
        assert "unknown, at least 10 pF" in words(self.look(cast, half))

    def test_an_instrument_says_with_which_values_it_counts(self, cast: Cast, board: Board) -> None:
        said = say_pickup(b.guitar())
        assert said == (
            "Counted with, as recorded: pickup 6 kohm, 2.5 H, 110 pF; volume pot 250 kohm; tone pot 250 kohm "
            "with 22 nF."
        )
        assert said in words(self.look(cast, board))
        bare = say_pickup(b.guitar(pickup=None, tone_nf=None))
        assert "pickup unknown, unknown, unknown; volume pot 250 kohm; tone pot 250 kohm with unknown" in bare
        assert "What is unknown of its pots counts as not there." in bare
        assert say_pickup(b.active_source()) == "Output 1 kohm, as recorded."

    def test_a_driver_without_a_recorded_output_is_unknown(self, cast: Cast) -> None:
        board = make_board(cast.shop, [b.pedal("P1", name="Low", bypass="buffered", output_ohm=None)])
        text = words(self.look(cast, board))
        assert "Low (P1): not recorded: the output impedance of P1" in text

    def test_an_active_instrument_has_no_curve_and_a_corner(self, cast: Cast) -> None:
        board = make_board(cast.shop, PEDALS, links=LEADS, sources=(b.active_source(),))
        answer = self.look(cast, board)
        (tone,) = answer.context["tones"]
        assert (tone.is_active, tone.response) == (True, None)
        assert tone.later[0].rows[0].driver == "G1"
        assert "active: its lead costs it no treble" in answer.text

    def test_a_passive_pedal_says_what_the_figure_leaves_out(self, cast: Cast) -> None:
        volume = b.pedal("P1", "volume", name="Door", bypass="always-on", circuit="passive")
        board = make_board(cast.shop, [volume])
        assert "Door (P1) is passive: what is before it meets this load too" in words(self.look(cast, board))

    def test_the_findings_there_are_those_of_tone(self, cast: Cast, long_board: Board) -> None:
        found = self.look(cast, long_board).context["findings"]
        rules = {row.rule for row in (*found.pressing, *found.advice)}
        assert rules == {one.rule for one in compute_tone(plan_of(long_board)).findings}

    def test_the_cables_page_leads_here(self, cast: Cast, board: Board) -> None:
        text = cast.browser("viewer").get(reverse("cables", args=[board.code])).text
        assert f'href="{self.url(board)}"' in text


class TestWhatIf:
    pytestmark = pytest.mark.django_db

    @pytest.fixture
    def board(self, cast: Cast) -> Board:
        return make_board(cast.shop, PEDALS, links=LEADS, cables=(b.cable_type("C1", name="Patch 100"),))

    @pytest.fixture
    def low(self, cast: Cast) -> CableType:
        return CableType.objects.create(shop=cast.shop, name="Low sixty", pf_per_m=60)

    def ask(self, cast: Cast, board: Board, role: str = "viewer", **query: Any) -> HttpResponse:
        headers = query.pop("headers", {})
        asked = {name.replace("__", "-"): value for name, value in query.items()}
        return cast.browser(role).get(reverse("tone", args=[board.code]), asked, headers=headers)

    def test_a_buffer_at_the_entry(self, cast: Cast, board: Board) -> None:
        answer = self.ask(cast, board, buffer="G1")
        trial = try_tone(plan_of(board), [AddedBuffer("G1")])
        (source,) = answer.context["trial"].sources
        assert [(one.total.before, one.total.after) for one in source.lines] == [
            (f"{one.before.segment.pf} pF", f"{one.after.segment.pf} pF") for one in trial.states["G1"]
        ]
        assert "a buffer behind G1" in words(answer)

    def test_several_at_once(self, cast: Cast, board: Board, low: CableType) -> None:
        answer = self.ask(cast, board, cable=str(low.pk), length__W1="1000", buffer=["P1"], buffer_pf="30")
        changes = [OtherCable(b.cable_type("", 60)), OtherLength("W1", 1000), AddedBuffer("P1", input_pf=30)]
        trial = try_tone(plan_of(board), changes)
        (source,) = answer.context["trial"].sources
        assert source.lines[0].total.after == f"{trial.states['G1'][0].after.segment.pf} pF"
        said = words(answer)
        assert "every signal cable of Low sixty; W1 1000 mm long; a buffer behind P1" in said

    def test_one_link_of_another_cable(self, cast: Cast, board: Board, low: CableType) -> None:
        (source,) = self.ask(cast, board, cable__W1=str(low.pk)).context["trial"].sources
        before, after = source.lines[0].total.before, source.lines[0].total.after
        assert int(before.split()[0]) - int(after.split()[0]) == 3 * (100 - 60)

    def test_the_address_alone_gives_the_same_again(self, cast: Cast, board: Board, low: CableType) -> None:
        """What can be shared has nothing blank in it, and says the same."""
        query = {"cable": "", "cable-W1": str(low.pk), "length-W2": "", "buffer": "G1", "buffer_ohm": "500k"}
        address = reverse("tone", args=[board.code])
        first = cast.browser("viewer").get(address, query)
        shared = first.context["trial"].address
        assert dict(parse_qsl(shared)) == {"cable-W1": str(low.pk), "buffer": "G1", "buffer_ohm": "500k"}
        again = cast.browser("owner").get(f"{address}?{shared}")
        assert again.context["trial"].sources == first.context["trial"].sources

    def test_nothing_on_the_board_is_changed(self, cast: Cast, board: Board) -> None:
        before = dump_plan(plan_of(board))
        self.ask(cast, board, "editor", buffer="G1", length__W1="500")
        assert dump_plan(plan_of(board)) == before
        assert Board.objects.get(pk=board.pk).edit_number == 0

    def test_the_fragment_is_the_same_without_its_frame(self, cast: Cast, board: Board) -> None:
        answer = self.ask(cast, board, buffer="G1", headers=HTMX)
        assert "<html" not in answer.text
        assert "a buffer behind G1" in words(answer)

    def test_what_it_settles_and_brings(self, cast: Cast, board: Board) -> None:
        trial = self.ask(cast, board, buffer="G1", buffer_output="1M").context["trial"]
        assert "T05" in [one.rule for one in trial.brings]
        settled = self.ask(cast, board, length__W1="1000", length__W2="1000", length__W3="1000")
        assert "T09" in [one.rule for one in settled.context["trial"].settles]

    def test_a_finding_that_only_reads_otherwise_is_said_to_change(self, cast: Cast, board: Board) -> None:
        text = words(self.ask(cast, board, length__W1="9500"))
        assert "It changes what T09 says." in text
        assert "It settles T09" not in text
        assert "It brings T09" not in text

    @pytest.mark.parametrize(
        ("query", "said"),
        [
            ({"length-W1": "long"}, "W1"),
            ({"length-W1": "0"}, "above zero"),
            ({"length-W1": "100001"}, "No cable is longer than 100000 mm"),
            ({"cable": "999999"}, "no cable of the shop any more"),
            ({"buffer": "G1", "buffer_ohm": "0"}, "Above zero, please"),
            ({"buffer": "G1", "buffer_pf": "<b>"}, "is no capacitance"),
        ],
    )
    @pytest.mark.parametrize("headers", [{}, HTMX])
    def test_a_wrong_value_is_said_at_its_field_and_kept(
        self, cast: Cast, board: Board, query: dict[str, str], said: str, headers: dict[str, str]
    ) -> None:
        answer = cast.browser("viewer").get(reverse("tone", args=[board.code]), query, headers=headers)
        assert answer.status_code == 422
        assert said in unescape(answer.text)
        assert 'aria-invalid="true"' in answer.text
        assert answer.context["trial"] is None
        (value,) = list(query.values())[-1:]
        typed = value.replace("<", "&lt;").replace(">", "&gt;")
        assert f'value="{typed}"' in answer.text or value == "999999"

    def test_what_is_not_on_the_board_is_left_out_and_named(self, cast: Cast, board: Board) -> None:
        answer = self.ask(cast, board, buffer=["P77", "g1"], length__W88="500", cable__W1="")
        assert answer.status_code == 200
        assert "P77, W88 is nothing on this board" in words(answer)
        assert answer.context["trial"].says == ("a buffer behind G1",)

    def test_only_what_stands_in_the_address_is_asked(self, cast: Cast, board: Board) -> None:
        answer = self.ask(cast, board, cable="", length__W1="", buffer_ohm="1000000")
        assert answer.context["trial"] is None
        assert answer.status_code == 200

    def test_a_length_that_does_not_reach_is_told(self, cast: Cast) -> None:
        board = make_board(cast.shop, 2)
        assert "does not reach" in words(self.ask(cast, board, length__W2="20"))
        assert "does not reach" not in words(self.ask(cast, board, length__W2="900"))

    def test_lengths_are_typed_and_said_in_the_shops_unit(self, cast: Cast, board: Board) -> None:
        cast.shop.length_unit = "in"
        cast.shop.save()
        answer = self.ask(cast, board, length__W1="40")
        assert "W1 40.00 in long" in words(answer)
        (source,) = answer.context["trial"].sources
        trial = try_tone(plan_of(board), [OtherLength("W1", 1016)])
        assert source.lines[0].total.after == f"{trial.states['G1'][0].after.segment.pf} pF"

    def test_an_editor_is_led_to_where_it_is_carried_out(self, cast: Cast, board: Board) -> None:
        query = {"buffer": "G1", "length__W1": "500"}
        assert "Carry it out" in self.ask(cast, board, "editor", **query).text
        assert "Carry it out" not in self.ask(cast, board, "viewer", **query).text

    def test_a_stranger_gets_404(self, cast: Cast, board: Board) -> None:
        assert self.ask(cast, board, "stranger", buffer="G1").status_code == 404
