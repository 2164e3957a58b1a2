"""Results files of all kinds, sound and damaged, become neutral rows, and what is wrong with them is told."""

from __future__ import annotations

import csv
import zipfile
from contextlib import suppress
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from turnwright.bank.analysis.rows import Rows
from turnwright.bank.analysis.told import Ledger
from turnwright.bank.errors import FileError
from turnwright.exporters.results import Pseudonyms, read_results, with_groups
from turnwright.exporters.results.duration import seconds
from turnwright.exporters.results.report_file import read_report
from turnwright.exporters.results.sources import Source
from turnwright.exporters.results.table_file import TableFile, is_formula
from turnwright.exporters.strangers.parsing import DocumentError

from tests.fair import NAMESPACES, Sat, report_xml, write_xml

ANSWERS = [
    Sat("Wren Halloway", "pq_q01_v001", {"RESPONSE": "B"}, 0.0, 42.5),
    Sat("Wren Halloway", "pq_q02_v003", {"RESPONSE": "3.14"}, 1.0, 61.0),
    Sat("Wren Halloway", "pq_q03_v002", {"RESPONSE_1": "A", "RESPONSE_2": ("C", "D")}, 2.0, 90.0),
    Sat("Wren Halloway", "pq_q04_v001", {}, 0.0, 5.0),
]
HEAD = "candidate,item,response,score\n"


def read(*paths: Path, salt: str = "lantern") -> Rows:
    return read_results(paths, Pseudonyms(salt))


def told(rows: Rows) -> str:
    return "\n".join(map(str, rows.ledger.notes()))


def table(rows: Rows, *columns: str) -> list[tuple[object, ...]]:
    return list(rows.table[list(columns)].astype(object).itertuples(index=False, name=None))


@pytest.mark.parametrize("version", NAMESPACES)
def test_results_reports_of_all_versions_give_the_same_rows(version: str, tmp_path: Path) -> None:
    write_xml(ANSWERS, tmp_path / "results.zip", version)
    rows = read(tmp_path / "results.zip")
    assert table(rows, "item", "response", "score", "duration") == [
        ("pq_q01_v001", "B", 0.0, 42.5),
        ("pq_q02_v003", "3.14", 1.0, 61.0),
        ("pq_q03_v002", "RESPONSE_1=A RESPONSE_2=C RESPONSE_2=D", 2.0, 90.0),
        ("pq_q04_v001", "", 0.0, 5.0),
    ]
    assert not told(rows)


def test_the_example_of_the_fact_sheet_is_read(tmp_path: Path) -> None:
    """Structure of section 7 of the sheet on interchange: variables in any order, built-ins, a row that was drawn."""
    text = f"""<assessmentResult xmlns="{NAMESPACES["3.0"]}"><context sourcedId="cand-17">
      <sessionIdentifier sourceID="https://dept.example/" identifier="lantern-autumn"/></context>
      <itemResult identifier="pull" datestamp="2025-03-04T10:12:40" sessionStatus="final">
      <outcomeVariable identifier="SCORE" cardinality="single" baseType="float"><value>0</value></outcomeVariable>
      <responseVariable identifier="numAttempts" cardinality="single" baseType="integer"><candidateResponse>
      <value>1</value></candidateResponse></responseVariable>
      <templateVariable identifier="ROW" cardinality="single" baseType="integer"><value>3</value></templateVariable>
      <responseVariable identifier="RESPONSE" cardinality="single" baseType="identifier" choiceSequence="B A Z">
      <correctResponse><value>A</value></correctResponse><candidateResponse><value>B</value></candidateResponse>
      </responseVariable></itemResult></assessmentResult>"""
    (tmp_path / "one.xml").write_text(text)
    assert table(read(tmp_path / "one.xml"), "item", "response", "correct", "score") == [("pull#3", "B", "A", 0.0)]


def test_no_name_is_kept_and_one_salt_gives_one_pseudonym(tmp_path: Path) -> None:
    path = tmp_path / "class.csv"
    path.write_text(HEAD + "Wren Halloway,q1,A,1\n Wren Halloway ,q2,A,1\nother,q1,A,1\n")
    first, again, salted = read(path), read(path), read(path, salt="another")
    names = [set(each.table["candidate"]) for each in (first, again, salted)]
    assert len(names[0]) == 2
    assert names[0] == names[1]
    assert not names[0] & names[2]
    assert set(read(path, salt="").table["candidate"]) != set(read(path, salt="").table["candidate"])
    assert "Wren" not in first.table.to_csv() + repr(first)


@pytest.mark.parametrize(
    "text, wanted",
    [("42.5", 42.5), ("42,5", 42.5), ("PT1M2.5S", 62.5), ("P1DT1H", 90_000), ("PT3,5S", 3.5), ("1:02:03", 3723)],
)  # fmt: skip
def test_durations_are_read_tolerantly(text: str, wanted: float) -> None:
    assert seconds(text) == wanted
    assert all(seconds(each) != seconds(each) for each in ("", "P", "soon", "-3", "1e999"))


@pytest.mark.parametrize(
    "encoding, named", [("utf-8-sig", ""), ("utf-16", "UTF-16"), ("utf-16-le", "UTF-16"), ("latin-1", "Latin-1")]
)
def test_encodings_of_a_csv_are_sniffed_and_told(encoding: str, named: str, tmp_path: Path) -> None:
    (tmp_path / "class.csv").write_bytes((HEAD.replace(",", ";") + "Ä;q1;Förster;1,5\n").encode(encoding))
    rows = read(tmp_path / "class.csv")
    assert table(rows, "item", "response", "score") == [("q1", "Förster", 1.5)]
    assert (named in told(rows)) if named else not told(rows)


def test_mixed_encodings_are_told_line_by_line(tmp_path: Path) -> None:
    lines = [HEAD.encode(), "a,q1,é,1\n".encode(), "b,q1,é,1\n".encode("latin-1")]
    (tmp_path / "class.csv").write_bytes(b"".join(lines))
    rows = read(tmp_path / "class.csv")
    assert [each for (each,) in table(rows, "response")] == ["é", "é"]
    assert "mixed" in told(rows)
    assert "class.csv line 3" in told(rows)


@pytest.mark.parametrize("quoted", [False, True])
def test_damaged_lines_are_counted_with_their_places_and_the_rest_is_read(quoted: bool, tmp_path: Path) -> None:
    lines = [f'"c{n}",q1,A,1' if quoted else f"c{n},q1,A,1" for n in range(200)]
    for place in range(0, 200, 10):
        lines[place] = ["c,q1", "c,q1,A,1,1,1", 'c,"q1,A,1' if quoted else "c"][place % 3]
    (tmp_path / "class.csv").write_text(HEAD + "\n".join(lines) + "\n")
    rows = read(tmp_path / "class.csv")
    assert len(rows.table) == 180
    assert rows.unplaced
    assert ": 20 (class.csv line 2, class.csv line 12" in told(rows)
    assert rows.table["place"].iloc[0] == 3


def test_an_open_quote_swallows_no_line_behind_it(tmp_path: Path) -> None:
    (tmp_path / "class.csv").write_text(HEAD + 'a,q1,"A,1\nb,q1,A,1\nc,q1,A,0\n')
    assert [each for (each,) in table(read(tmp_path / "class.csv"), "score")] == [1.0, 0.0]


def test_formulas_stay_text_and_are_told(tmp_path: Path) -> None:
    with (tmp_path / "class.csv").open("w", newline="") as file:
        csv.writer(file).writerows(
            [HEAD.strip().split(","), ["a", "q1", "=HYPERLINK(1)", "1"], ["b", "q1", "-3.5", "0"]]
        )
    rows = read(tmp_path / "class.csv")
    assert "formula; they are taken as text: 1 " in told(rows)
    assert [is_formula(each) for each in ("=1", " @x", "+cmd|'/c'!A0", "-3.5", "3", "", "A")] == [True] * 3 + [
        False
    ] * 4


def test_entities_bombs_and_strangers_are_refused_one_by_one(tmp_path: Path) -> None:
    folder = tmp_path / "results"
    folder.mkdir()
    (folder / "a.xml").write_text(report_xml(ANSWERS))
    (folder / "b.xml").write_text(
        '<!DOCTYPE a [<!ENTITY e SYSTEM "file:///etc/hostname">]><assessmentResult>&e;</assessmentResult>'
    )
    (folder / "c.xml").write_text("<assessmentResult")
    (folder / "d.xml").write_text("<other/>")
    (folder / "Wren Halloway.pdf").write_text("x")
    with zipfile.ZipFile(folder / "e.zip", "w", zipfile.ZIP_DEFLATED) as file:
        file.writestr("bomb.csv", HEAD + "a,q1,A,1\n" * 1_000_000)
    rows = read(folder)
    assert len(rows.table) == len(ANSWERS)
    for each in ("DOCTYPE", "not well-formed", "no results report", "times its packed size", "neither XML nor CSV"):
        assert each in told(rows)
    assert "Wren" not in told(rows)


def test_results_without_any_answer_are_an_error_that_says_why(tmp_path: Path) -> None:
    (tmp_path / "class.csv").write_text("name,mark\nx,1\n")
    with pytest.raises(FileError, match="without the columns candidate, item, response and score"):
        read(tmp_path / "class.csv")
    with pytest.raises(FileError, match="no such file"):
        read(tmp_path / "absent.csv")


def test_groups_come_from_a_file_of_their_own(tmp_path: Path) -> None:
    (tmp_path / "class.csv").write_text(HEAD + "a,q1,A,1\nb,q1,A,1\n")
    (tmp_path / "groups.csv").write_text("candidate;group\na;morning\nz;evening\n")
    pseudonyms = Pseudonyms("x")
    rows = with_groups(read_results([tmp_path / "class.csv"], pseudonyms), tmp_path / "groups.csv", pseudonyms)
    assert [each for (each,) in table(rows, "group")] == ["morning", ""]
    assert "not in the results: 1" in told(rows)


@given(
    st.one_of(st.binary(max_size=200), st.text(alphabet='ab,;"\n\r\t=\0é\u2028\x1c', max_size=200).map(str.encode)),
    st.sampled_from([b"", b'"', b"\xff\xfe", b"\n"]),
)
def test_whatever_stands_in_a_csv_it_is_read_or_told(body: bytes, mark: bytes) -> None:
    rows = []
    ledger = Ledger()
    file = TableFile(
        Source("x", "csv", lambda: iter([HEAD.encode() + b"c,i,A,1\n" + body + mark])), Pseudonyms("x"), ledger
    )
    for each in file.frames():
        rows += each["place"].tolist()
    assert rows[0] == 2
    assert rows == sorted(set(rows))


@given(st.binary(max_size=300), st.integers(0, 600))
def test_whatever_stands_in_a_report_it_is_read_or_refused(piece: bytes, place: int) -> None:
    data = report_xml(ANSWERS).encode()
    with suppress(DocumentError):
        list(read_report([data[:place] + piece + data[place + len(piece) :]]))


def test_a_cell_without_end_in_the_first_line_is_told(tmp_path: Path) -> None:
    path = tmp_path / "results.csv"
    path.write_text(f'candidate,item,response,score,"{"x" * 140_000}"\nWren,pq_q01_v001,B,1\n')
    with pytest.raises(FileError, match="without the columns"):
        read(path)
    sound = tmp_path / "sound.csv"
    sound.write_text(HEAD + "Wren,pq_q01_v001,B,1\n")
    rows = with_groups(read(sound), _written(path, f'candidate,group\nWren,"{"x" * 140_000}"\n'), Pseudonyms("lantern"))
    assert table(rows, "group") == [("",)]


def _written(path: Path, text: str) -> Path:
    path.write_text(text)
    return path
