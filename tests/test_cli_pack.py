"""The command `pack`: what it writes, says and refuses."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from packs import CLASS
from pdf_reader import read_pdf

from jigs.cli import cli, main, progress
from jigs.cli.pack import command


@pytest.fixture
def job(tmp_path: Path) -> Path:
    path = tmp_path / "bracelet.toml"
    path.write_text(CLASS.replace("seats = 8 ", "seats = 2 "), encoding="utf-8")
    return path


def run(job: Path, *words: str) -> Result:
    result = CliRunner().invoke(command, [str(job), *words], catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return result


def refused(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], *words: str) -> str:
    monkeypatch.setattr(sys, "argv", ["coilwright", *words])
    with pytest.raises(SystemExit) as end:
        main()
    assert end.value.code == 2
    return capsys.readouterr().err


def test_one_pdf_is_written_here_and_named_after_the_order(job: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(job.parent)
    assert "wrote bracelet-pack.pdf" in run(job).stdout
    assert (job.parent / "bracelet-pack.pdf").read_bytes().startswith(b"%PDF-1.7")


def test_it_says_what_is_where_and_what_is_left_out(job: Path) -> None:
    said = run(job, "--out", str(job.parent / "a.pdf")).stdout
    assert said.split()[:4] == ["page", "sheet", "on", "use"]
    assert "Job cards" in said
    assert "Left out: chain ring: no dowel sheet." in said


def test_the_same_order_gives_the_same_bytes(job: Path) -> None:
    outs = [job.parent / name for name in ("a.pdf", "b.pdf")]
    for out in outs:
        run(job, "--out", str(out))
    assert outs[0].read_bytes() == outs[1].read_bytes()


def test_paper_and_date_are_those_of_the_order_unless_they_are_typed(job: Path) -> None:
    job.write_text(job.read_text().replace('paper = "a4"', 'paper = "letter"').replace("# date", "date"))
    for words, width, date in ((("--date", "4 March"), 215.9, "4 March"), (("--paper", "a4"), 210.0, "3 March")):
        out = job.parent / f"{width:g}.pdf"
        run(job, "--out", str(out), *words)
        first = read_pdf(out.read_bytes())[0]
        assert first.width == pytest.approx(width, abs=0.01)
        assert any(date in said.string for said in first.words)


def test_pictures_of_every_page_come_on_request(job: Path) -> None:
    run(job, "--format", "pdf,svg", "--out", str(job.parent / "all"))
    pages = len(read_pdf((job.parent / "all" / "bracelet-pack.pdf").read_bytes()))
    assert len(list((job.parent / "all").glob("*.svg"))) == pages


def test_the_pack_is_made_true_for_a_measured_printer(job: Path) -> None:
    measure = ["printer", "measure", "study", "--date", "2026-11-20", "--across"]
    for stock, along in (("plain", "199.5 mm"), ("card", "199 mm")):
        words = [*measure, "149.8 mm", "--along", along, "--tray", stock]
        assert CliRunner().invoke(cli, words, catch_exceptions=False).exit_code == 0
    out = job.parent / "true.pdf"
    chosen = ("--printer", "study", "--tray", "plain", "--card", "card", "--date", "2026-11-21")
    result = run(job, "--out", str(out), *chosen)
    assert "Made true for study on plain" in result.output
    assert "Made true for study on card" in result.output
    sheets = read_pdf(out.read_bytes())
    assert any("study on plain" in said.string for said in sheets[0].words)
    assert any("study on card" in said.string for said in sheets[-1].words)


def test_card_without_a_printer_is_refused_by_its_own_name(
    job: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    said = refused(monkeypatch, capsys, "pack", str(job), "--card", "x", "--out", str(job.parent / "x.pdf"))
    assert "a card without a printer; choose a usual printer, or name one; give --printer" in said
    assert "--tray" not in said


def test_the_help_says_what_each_seat_gets_and_what_comes_once(job: Path) -> None:
    said = " ".join(run(job, "--help").stdout.split())
    assert "job cards, ring cards, strips and labels for each seat; pins and totals once" in said


def test_too_many_pictures_are_refused(
    job: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    job.write_text(job.read_text().replace("seats = 2 ", "seats = 200 "))
    said = refused(monkeypatch, capsys, "pack", str(job), "--format", "svg", "--out", str(job.parent / "x"))
    assert "pages as pictures of their own are more than 300; ask for pdf alone" in said


def test_ten_thousand_seats_are_refused_with_a_way_out(
    job: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    job.write_text(job.read_text().replace("seats = 2 ", "seats = 10000 ").replace("count = 400 ", "each_seat = 9 "))
    assert "(--sets once)" in refused(monkeypatch, capsys, "pack", str(job))
    assert "print 10000 times" in run(job, "--sets", "once", "--out", str(job.parent / "once.pdf")).stdout


def test_a_faulty_order_is_refused_with_its_line(
    job: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    job.write_text(job.read_text().replace("cut = ", "cutt = ", 1))
    assert "bracelet.toml:13: no key is called 'cutt'" in refused(monkeypatch, capsys, "pack", str(job))


def test_a_left_hand_has_its_bench_pin_mirrored(job: Path) -> None:
    out = job.parent / "left.pdf"
    run(job, "--hand", "left", "--out", str(out))
    said = [word.string for sheet in read_pdf(out.read_bytes()) for word in sheet.words]
    assert "left hand, front to you" in said


def test_a_bar_is_shown_for_work_that_takes_long_and_none_for_what_does_not(
    job: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    out = str(job.parent / "a.pdf")
    assert run(job, "--out", out).stderr == ""
    monkeypatch.setattr(progress, "WAIT_S", -1.0)
    said = run(job, "--out", out).stderr
    assert "Planning" in said
    assert "Laying out" in said
