"""Certificates at the command line: a record is exported as one, one of a transducer is read."""

import tomllib
from pathlib import Path

import pytest
from lxml import etree

from forms import ADAPTER
from paper.dcc.foreign import GOOD
from steelyard.bootstrap import workshop
from steelyard.cli import run
from steelyard.desk import record_export, record_file
from steelyard.paper.dcc import dcc_of


@pytest.fixture
def shop(tmp_path: Path) -> str:
    """A workshop with one record."""
    with workshop(tmp_path / "shop") as opened:
        record_file(opened.acting(), ADAPTER.encode())
    return str(tmp_path / "shop")


def test_a_record_is_exported_as_a_certificate(shop: str, capsysbinary: pytest.CaptureFixture[bytes]) -> None:
    assert run(["export", "1", "--as", "dcc", "--data", shop]) == 0
    content = capsysbinary.readouterr().out
    with workshop(Path(shop)) as opened:
        signer = opened.keyring.signer()
        assert content == dcc_of(record_export(opened.ledger, 1), workshop="", signer=signer)
    assert etree.fromstring(content).get("schemaVersion") == "3.3.0"


def test_it_goes_into_a_new_file(shop: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "record.xml"
    options = ["export", "1", "--as", "dcc", "--data", shop, "--out", str(file)]
    assert run(options) == 0
    assert file.read_bytes().startswith(b"<?xml")
    assert str(file) in capsys.readouterr().out
    assert run(options) == 3


def test_a_certificate_holds_every_phase(shop: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["export", "1", "--as", "dcc", "--phase", "as-found", "--data", shop]) == 3
    assert "--phase" in capsys.readouterr().err
    assert run(["export", "2", "--as", "dcc", "--data", shop]) == 4


def test_a_certificate_is_told_as_the_paper_of_a_check_form(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "paper.xml").write_bytes(GOOD)
    assert run(["dcc", str(tmp_path / "paper.xml")]) == 0
    out = capsys.readouterr().out
    paper = tomllib.loads(out)["kit"]["paper"]
    assert (paper["certificate"], paper["states"], len(paper["row"])) == ("TPB-0042", "torque", 3)
    remarks = [line for line in out.splitlines() if line.startswith("# ")]
    assert len(remarks) == 2 and "worked_true" in remarks[-1]


def test_what_is_no_certificate_is_refused_in_one_sentence(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "paper.xml").write_text("<html/>")
    assert run(["dcc", str(tmp_path / "paper.xml")]) == 3
    said = capsys.readouterr()
    assert (said.out, said.err.count("\n")) == ("", 1)
    assert "Digital Calibration Certificate" in said.err
    assert run(["dcc", str(tmp_path / "none.xml")]) == 4
