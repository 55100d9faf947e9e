import csv
import json

import pytest

from caddie.errors import CaddieError
from caddie.log.export import Form, exported, line_of, read_lines
from caddie.log.shot import Shot


def text(shots, form):
    return "".join(exported(shots, form))


def test_lines_go_out_and_come_back(tmp_path, full_shot):
    shots = [full_shot, Shot(player="Ash"), Shot(sentence="zwölf Meter\u2028odd break")]
    path = tmp_path / "shots.jsonl"
    path.write_text(text(shots, Form.LINES), encoding="utf-8")
    assert read_lines(path) == shots


def test_json_is_one_array(full_shot):
    assert len(json.loads(text([full_shot] * 3, Form.JSON))) == 3
    assert json.loads(text([], Form.JSON)) == []
    assert Shot.model_validate(json.loads(text([full_shot], Form.JSON))[0]) == full_shot


def test_csv_has_a_header_and_a_row_a_shot(full_shot):
    rows = list(csv.DictReader(text([full_shot, Shot()], Form.CSV).splitlines()))
    assert len(rows) == 2
    assert rows[0]["pin_m"] == "27.4"
    assert rows[0]["side"] == "long left"
    assert rows[0]["advised_club"] == "56"
    assert rows[0]["club"] == "60"
    assert rows[1]["holed"] == "no"


def test_a_sentence_is_no_formula_in_a_spreadsheet():
    rows = list(csv.DictReader(text([Shot(sentence="=1+1")], Form.CSV).splitlines()))
    assert rows[0]["sentence"] == "'=1+1"


def test_the_line_that_is_wrong_is_named(tmp_path, full_shot):
    path = tmp_path / "shots.jsonl"
    path.write_text(line_of(full_shot) + '\n{"time": "2026-05-01T10:00:00Z", "mode": "fishing"}\n')
    with pytest.raises(CaddieError, match=r"shots\.jsonl: line 2: mode: "):
        read_lines(path)
    with pytest.raises(CaddieError, match="no such file"):
        read_lines(tmp_path / "none.jsonl")
