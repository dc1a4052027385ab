"""The command `wire`."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

from jigs.cli.wire import command
from layouts.errors import OutOfRange, QuantityRefused


def output(*arguments: str) -> str:
    result = CliRunner().invoke(command, arguments)
    assert result.exit_code == 0, result.output
    return result.output


def test_a_gauge_is_shown_in_every_system_with_its_neighbours() -> None:
    assert output("16 AWG") == (
        "16 AWG = 1.291 mm (0.0508 in, 3/64 in + 0.100 mm)\n"
        "\n"
        "gauge       mm    inch  the wire is\n"
        "15 AWG  1.4495  0.0571  0.1587 mm thinner (-10.9 %)\n"
        "16 AWG  1.2908  0.0508  the same                     <- nearest\n"
        "17 AWG  1.1495  0.0453  0.1413 mm thicker (+12.3 %)\n"
        "17 SWG  1.4224  0.0560  0.1316 mm thinner (-9.2 %)\n"
        "18 SWG  1.2192  0.0480  0.0716 mm thicker (+5.9 %)   <- nearest\n"
        "19 SWG  1.0160  0.0400  0.2748 mm thicker (+27.1 %)\n"
        "\n"
        "AWG: ASTM B258, exact formula\n"
        "SWG: BS 3737:1964\n"
    )


def test_a_wire_past_the_last_gauge_has_neighbours_on_one_side_only() -> None:
    text = output("4/0 AWG")
    assert "4/0 AWG" in text
    assert "3/0 AWG" in text
    assert "5/0 AWG" not in text


def test_scripts_get_the_same_with_units_in_the_keys() -> None:
    # 1.2 mm against ASTM B258 and BS 3737:1964.
    data = json.loads(output("1.2mm", "--json"))
    assert list(data) == ["given", "wire_mm", "wire_in", "nearest_64th", "nearest_64th_residue_mm", "awg", "swg"]
    assert (data["given"], data["wire_mm"], data["nearest_64th"]) == ("1.2 mm", 1.2, "3/64 in")
    assert data["nearest_64th_residue_mm"] == pytest.approx(1.2 - 1.190625)
    assert data["swg"]["nearest"] == {"gauge": "18 SWG", "diameter_mm": pytest.approx(1.2192), "source": "BS 3737:1964"}
    assert data["swg"]["residue_mm"] == pytest.approx(-0.0192)
    assert [data["awg"][k]["gauge"] for k in ("thicker", "nearest", "thinner")] == ["16 AWG", "17 AWG", "18 AWG"]


def test_scripts_get_null_where_there_is_no_neighbour() -> None:
    data = json.loads(output("4/0 AWG", "--json"))
    assert data["awg"]["thicker"] is None


def test_help_says_what_you_get_and_shows_three_lines() -> None:
    assert output("--help").splitlines()[2:10] == [
        "  One wire in millimetres, inches, AWG and SWG, with its neighbours.",
        "",
        "  WIRE is a gauge with its system, or a diameter with its unit.",
        "",
        '    coilwright wire "16 AWG"',
        '    coilwright wire "1.2 mm"',
        '    coilwright wire "3/64 in" --json',
        "",
    ]


@pytest.mark.parametrize(("text", "kind"), [("18", QuantityRefused), ("41 AWG", OutOfRange), ("5", QuantityRefused)])
def test_a_refusal_passes_through(text: str, kind: type[Exception]) -> None:
    result = CliRunner().invoke(command, [text])
    assert isinstance(result.exception, kind)
    assert result.output == ""
