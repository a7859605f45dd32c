import io
import os
from dataclasses import replace

import pytest
from rich.console import Console

from contactfe.assess.results import Comparison
from contactfe.case.display import SI, significant
from contactfe.report import words
from contactfe.report.table import WIDTH, print_comparison, write_table


def _printed(comparison: Comparison, **console: object) -> str:
    text = io.StringIO()
    print_comparison(comparison, Console(file=text, **console))  # type: ignore[arg-type]
    return text.getvalue()


def _joined(text: str) -> str:
    return " ".join(text.split())


@pytest.mark.parametrize("width", [40, 80, 200])
def test_nothing_is_cut_whatever_the_width_of_the_console(comparison, width):
    text = _printed(comparison, width=width)
    assert "…" not in text
    assert max(len(line.rstrip()) for line in text.splitlines()) <= WIDTH
    assert text == _printed(comparison, width=80)


def test_the_console_keeps_its_width(comparison):
    console = Console(file=io.StringIO(), width=80)
    print_comparison(comparison, console)
    assert console.width == 80


def test_every_figure_is_there(comparison):
    text = _printed(comparison)
    for r in comparison.sections:
        for figure in (
            r.section.name,
            words.size(r.section, SI),
            significant(r.mass_per_length),
            f"{words.peak(r.member, SI)} ",
            f"{words.peak(r.plate, SI)} ",
            r.member.peak.zone,
            words.first_yield(r.member, SI),
            words.first_yield(r.plate, SI),
        ):
            assert figure in text
        block = text.split(f"{r.section.name}: hand formulas")[1]
        for check in r.hand:
            row = next(line for line in block.splitlines() if line.startswith(check.label))
            assert significant(check.computed) in row
            assert significant(check.hand) in row
            assert f"{100 * check.difference:+.1f} %" in row


def test_rows_come_in_rank_order(comparison):
    text = _printed(comparison).split("hand formulas")[0]
    places = [text.index(f"{k} {name}") for k, name in enumerate(_spaced(comparison), start=1)]
    assert places == sorted(places)


def _spaced(comparison: Comparison) -> list[str]:
    return [f" {name}" for name in comparison.by_concentration]


def test_the_answer_the_rankings_and_the_cautions_are_there(comparison):
    text = _joined(_printed(comparison))
    assert _joined(comparison.reason) in text
    assert f"By mass, lightest first: {', '.join(comparison.by_mass)}" in text
    for caution in words.CAUTIONS:
        assert caution in text


def test_verdicts_need_no_colour(comparison):
    text = _printed(comparison)
    assert "\x1b" not in text
    verdicts = [b.satisfied for r in comparison.sections for b in (r.member, r.plate)]
    main = text.split("hand formulas")[0]
    assert main.count("below yield") == sum(verdicts) > 0
    assert main.count("ABOVE YIELD") == len(verdicts) - sum(verdicts) > 0


def test_a_verdict_names_the_margin(comparison):
    case = replace(comparison.case, yield_margin=1.5)
    body = comparison.sections[0].plate
    assert words.verdict(replace(body, satisfied=True), case) == "below yield / 1.5"
    over = replace(body, satisfied=False, utilisation=1.01)
    assert words.verdict(over, case) == "ABOVE YIELD / 1.5"
    blurred = replace(body, satisfied=False, utilisation=0.999)
    assert words.verdict(blurred, case) == "NOT CLEAR OF YIELD / 1.5"


def test_a_load_beyond_the_model_is_said_and_explained(comparison):
    first = comparison.sections[0]
    member = replace(first.member, first_yield_line_load=None)
    other = replace(comparison, sections=(replace(first, member=member), comparison.sections[1]))
    assert _printed(other).count(words.BEYOND) == 2
    assert words.BEYOND not in _printed(comparison)


def test_the_file_is_the_same_text_without_trailing_blanks(comparison, tmp_path, monkeypatch):
    monkeypatch.setitem(os.environ, "FORCE_COLOR", "1")
    write_table(comparison, tmp_path / "table.txt")
    written = (tmp_path / "table.txt").read_text(encoding="utf-8")
    monkeypatch.delitem(os.environ, "FORCE_COLOR")
    expected = "\n".join(line.rstrip() for line in _printed(comparison).splitlines())
    assert written == f"{expected}\n"


def test_a_dumb_terminal_gets_the_whole_table(comparison):
    text = io.StringIO()
    dumb = Console(file=text, force_terminal=True, color_system=None, _environ={"TERM": "dumb"})
    assert dumb.size.width == 80
    print_comparison(comparison, dumb)
    assert "…" not in text.getvalue()
    for result in comparison.sections:
        assert f"{result.member.peak.von_mises:.0f}" in text.getvalue()


def test_the_answer_comes_before_the_hand_formulas(comparison, tmp_path):
    write_table(comparison, tmp_path / "t.txt")
    text = (tmp_path / "t.txt").read_text()
    assert text.index("Answer") < text.index("hand formulas beside computed values")
    assert text.rstrip().splitlines()[-1].startswith("Caution: ")
