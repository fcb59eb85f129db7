import re
from dataclasses import replace

from boardshop.boards.models import Board
from boardshop.core.cables import compute_cables
from boardshop.core.tone.section import compute_tone
from tests.board_factories import make_board, plan_of
from tests.boards.page_contract import PageContract
from tests.core import builders as b
from tests.factories import Cast


class TestCables(PageContract):
    name = "cables"

    def test_cuts_and_total_are_the_cores(self, cast: Cast, board: Board) -> None:
        text, section = cast.browser("viewer").get(self.url(board)).text, compute_cables(plan_of(board))
        assert f"{section.cut_total_mm} mm" in text
        assert all(f"{run.cut_mm} mm" in text for run in section.runs if run.cut_mm)

    def test_a_given_lead_is_not_cut(self, cast: Cast, board: Board) -> None:
        board.items.get(ref="W1").link.__class__.objects.filter(ref="W1").update(length=6000)
        rows = cast.browser("viewer").get(self.url(board)).context["rows"]
        assert rows[0].run is None

    def test_a_given_or_made_lead_shows_its_length_and_its_capacitance(self, cast: Cast) -> None:
        given, made, bare = b.chain("G1", "P1", "P2", "A1")
        links = (
            replace(given, length=3000, cable="C1"),
            replace(made, made=450, cable="C1"),
            replace(bare, length=777, cable=None),
        )
        cable = b.cable_type("C1", pf_per_m=100)  # so 3 m are 300 pF and 0.45 m are 45 pF
        board = make_board(cast.shop, [b.pedal("P1"), b.pedal("P2")], links=links, cables=(cable,))
        text = cast.browser("viewer").get(self.url(board)).text
        cells = re.findall(r'<span class="num" data-label="Cut">(.*?)</span>', text)
        assert cells == ["3000 mm given<br>300 pF", "450 mm made<br>45 pF", "777 mm given<br>pF unknown"]

    def test_parts_bear_their_name_and_then_their_code(self, cast: Cast) -> None:
        plugs = (b.plug_type("J1", name="Flat angle"), b.dc_plug_type("J9", name="Barrel"))
        board = make_board(cast.shop, plugs=plugs, cables=(b.cable_type("C1", name="Patch thin"),))
        names = [part.name for part in cast.browser("viewer").get(self.url(board)).context["parts"]]
        ref = next(plug.ref for plug in plan_of(board).plugs if plug.name == "Flat angle")
        assert names[:2] == ["Patch thin (C1)", f"Flat angle ({ref})"]

    def test_each_state_bears_its_own_capacitance_and_resonance(self, cast: Cast) -> None:
        # P1 is on as used: it drives the rest, so the instrument hears W1 alone and rings higher
        links = [replace(link, length=3000, cable="C1") for link in b.chain("G1", "P1", "A1")]
        board = make_board(
            cast.shop, [b.pedal("P1", on=True)], links=tuple(links), cables=(b.cable_type("C1"),)
        )
        text, (tone,) = cast.browser("viewer").get(self.url(board)).text, compute_tone(plan_of(board)).sources
        bypassed, used = tone.all_bypassed, tone.as_used
        assert bypassed.pf > used.pf
        assert bypassed.resonance_hz < used.resonance_hz
        for name, state in (("All bypassed", bypassed), ("As used", used)):
            said = f"{state.pf} pF, resonance {state.resonance_hz:.0f} Hz, peak {state.peak_db:+.1f} dB"
            assert f'<dt>{name}</dt><dd class="figures">{said}</dd>' in text

    def test_an_active_instrument_has_no_resonance_and_an_unrecorded_one_an_unknown(self, cast: Cast) -> None:
        active, unknown = b.guitar(output_ohm=1000), b.guitar(pickup=None)
        for source, words in ((active, "active, so no resonance"), (unknown, "resonance unknown")):
            board = make_board(cast.shop, sources=(source,), name=words)
            assert cast.browser("viewer").get(self.url(board)).text.count(words) >= 2

    def test_a_cable_into_an_input_not_on_record_is_unknown_in_both_states(self, cast: Cast) -> None:
        board = make_board(cast.shop, amps=(b.amp("A1", input_ohm=None),))
        assert cast.browser("viewer").get(self.url(board)).text.count("ends in no input on record") == 2

    def test_jacks_in_use_say_so(self, cast: Cast, board: Board) -> None:
        form = cast.browser("editor").get(self.url(board)).context["connect"]
        offered = dict(form.fields["target"].widget.choices)
        assert offered["P2.IN"].endswith(", in use")
        assert set(offered) == {"", "P1.IN", "P2.IN", "A1.IN"}
