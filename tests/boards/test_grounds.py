from dataclasses import replace

from django.urls import reverse

from boardshop.boards.models import Board
from boardshop.core.grounds import compute_grounds, list_cures, map_grounds
from boardshop.core.grounds.symptoms import SYMPTOMS
from tests.board_factories import make_board, plan_of
from tests.boards.contract import HTMX
from tests.boards.page_contract import PageContract
from tests.core import builders as b
from tests.core.test_grounds_cures import worked_example
from tests.factories import Cast


def stage_board(cast: Cast, **changes: object) -> Board:
    """Ten grounds, thirteen joins, four loops: two amps, three pedals on one group, a laptop."""
    plan = replace(worked_example(), **changes)  # type: ignore[arg-type]
    parts = {
        name: getattr(plan, name) for name in ("sources", "amps", "computers", "links", "supplies", "feeds")
    }
    return make_board(cast.shop, list(plan.pedals), **parts)


class TestGrounds(PageContract):
    name = "grounds"

    def answer(self, cast: Cast, board: Board, *tried: str) -> str:
        return cast.browser("viewer").get(self.url(board), {"without": list(tried)}).text

    def test_the_count_is_the_cores_and_says_how_it_came_about(self, cast: Cast) -> None:
        board = stage_board(cast)
        text = self.answer(cast, board)
        assert compute_grounds(plan_of(board)).loops == 4
        assert '<h2 id="loops-head">4 loops</h2>' in text
        assert "13 joins − 10 joined grounds + 1 connected part = 4" in text

    def test_every_loop_is_lettered_in_words_and_on_the_drawing(self, cast: Cast) -> None:
        text = self.answer(cast, stage_board(cast))
        for letter in "ABCD":
            assert f'<th scope="row" class="figures">{letter}</th>' in text
            assert f"Loop {letter}: " in text
        assert "Loop E" not in text

    def test_the_cures_come_in_their_order_with_the_cores_counts(self, cast: Cast) -> None:
        board = stage_board(cast)
        lines = cast.browser("viewer").get(self.url(board)).context["cures"]
        cures = list_cures(plan_of(board))
        assert [(line.cure.step.number, line.cure.alone, line.cure.after) for line in lines] == [
            (cure.step.number, cure.alone, cure.after) for cure in cures
        ]
        assert [line.cure.after for line in lines] == [4, 4, 2, 2, 1, 0, 0, 0]

    def test_a_pedal_on_a_group_is_told_which_outlet_is_free_or_that_it_needs_one(self, cast: Cast) -> None:
        board = stage_board(cast)
        assert "each needs an isolated outlet of its own, and no more" in self.answer(cast, board)
        supply = worked_example().supplies[0]
        more = replace(supply, outlets=(*supply.outlets, b.outlet("8")))
        text = self.answer(cast, stage_board(cast, supplies=(more,)))
        assert "to S1.8, 9 V, which is free and matches" in text
        lacking = [
            one.named.ref for one in cast.browser("viewer").get(self.url(board)).context["cures"][2].lacking
        ]
        assert lacking == ["P1.DC", "P2.DC", "P3.DC"]

    def test_trying_counts_again_and_changes_nothing(self, cast: Cast) -> None:
        board = stage_board(cast)
        before = plan_of(board)
        text = self.answer(cast, board, "W6", "w7")
        assert "With W6, W7 open: <strong>2 loops</strong>" in text
        assert 'value="W6" checked' in text
        assert 'value="P2.DC" checked' not in text
        assert '<h2 id="loops-head">2 loops with W6, W7 tried open</h2>' in text
        assert "11 joins − 10 joined grounds + 1 connected part = 2" in text
        assert "on none any more" in text
        assert "Loop C" not in text
        assert plan_of(board) == before

    def test_lifting_an_earth_is_refused_though_the_number_would_fall(self, cast: Cast) -> None:
        text = self.answer(cast, stage_board(cast), "A2")
        assert 'role="alert"' in text
        assert (
            "Stop: lifting the protective earth of A2 is no cure, though the count would fall to 3." in text
        )
        assert '<h2 id="loops-head">4 loops</h2>' in text
        assert 'value="A2" checked' in text
        assert "Loop D: " in text

    def test_what_else_is_opened_is_counted_with_the_earth_left_where_it_is(self, cast: Cast) -> None:
        text = self.answer(cast, stage_board(cast), "W7", "A2")
        assert "With W7 open: <strong>3 loops</strong> (every protective earth left where it is)" in text
        assert '<h2 id="loops-head">3 loops with W7 tried open</h2>' in text

    def test_every_earth_can_be_asked_for_and_no_other_join_off_the_loops(self, cast: Cast) -> None:
        board = stage_board(cast)
        page = cast.browser("viewer").get(self.url(board))
        graph = map_grounds(plan_of(board))
        earths = [join.ref for join in graph.joins if join.sort == "earth"]
        assert [one.ref for one in page.context["earths"]] == earths == ["A1", "A2", "M1"]
        looped = [join.ref for join in graph.list_looped() if join.sort != "earth"]
        assert [one.ref for one in page.context["choices"]] == looped
        assert "W1" not in looped

    def test_a_name_that_is_no_join_is_told_and_left_out(self, cast: Cast) -> None:
        text = self.answer(cast, stage_board(cast), "W6", "W99", "<b>", "")
        assert "W99, &lt;b&gt; is no join of this board as it stands now" in text
        assert "With W6 open: <strong>3 loops</strong>" in text

    def test_trying_works_as_a_part_too(self, cast: Cast) -> None:
        board = stage_board(cast)
        part = cast.browser("editor").get(self.url(board), {"without": "W6"}, headers=HTMX).text
        assert "<html" not in part
        assert "With W6 open: <strong>3 loops</strong>" in part

    def test_an_earth_that_nobody_recorded_is_told_beside_the_count(self, cast: Cast) -> None:
        board = stage_board(cast, computers=(b.computer("M1", earthed=None),))
        text = self.answer(cast, board)
        assert "Not recorded: whether M1 is joined to earth." in text
        assert '<h2 id="loops-head">3 loops</h2>' in text

    def test_without_a_loop_nothing_is_offered(self, cast: Cast, board: Board) -> None:
        text = self.answer(cast, board)
        assert '<h2 id="loops-head">no loop</h2>' in text
        assert "Nothing to cure" in text

    def test_what_is_heard_leads_to_its_suspects(self, cast: Cast, board: Board) -> None:
        text = self.answer(cast, board).replace("&#x27;", "'")
        for symptom in SYMPTOMS:
            assert all(words in text for words in (symptom.heard, *symptom.suspects))

    def test_a_finding_kept_here_stays_on_this_page(self, cast: Cast) -> None:
        board, browser = stage_board(cast), cast.browser("editor")
        finding = browser.get(self.url(board)).context["findings"].pressing[0]
        values = {"edit": board.edit_number, "page": "grounds", "rule": "G01", "why": "silent where we play"}
        sent = values | {"subjects": finding.subject_words}
        answer = browser.post(reverse("accept-finding", args=[board.code]), sent)
        assert answer["Location"].startswith(self.url(board))
        assert len(browser.get(self.url(board)).context["findings"].kept) == 1
