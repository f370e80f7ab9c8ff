"""A table of circuits read back: every row becomes a line of the spec, or a problem with its place."""

from __future__ import annotations

from collections.abc import Mapping

from specreg.source import Problem
from specreg.source.circuit_table import COLUMNS, line_of, reads_back
from specreg.source.circuits import EXAMPLE, Line, one_line
from specreg.trade.answers import Answers
from specreg.trade.table import Row, column_name, read_table

WANTED = ("circuit", "box", "way", "rating")


def is_circuits(data: bytes) -> bool:
    """Tell whether a table is one of circuits, by its header."""
    head = data.split(b"\n", 1)[0].decode("utf-8-sig", "replace")
    names = {
        column_name(name.strip().strip('"')) for name in head.replace(";", ",").replace("\t", ",").split(",")
    }
    return names >= set(WANTED)


def read_circuits(data: bytes, file: str, known: Mapping[str, Line]) -> Answers:
    """Read a table of circuits; those that the build has as they stand there are known already."""
    rows, problems = read_table(data, file, WANTED)
    answers = Answers(problems=problems)
    seen: dict[str, Row] = {}
    for row in rows:
        name, line = line_of({column: row[column] for column in COLUMNS})
        lacking = [column for column in WANTED if not row[column]]
        if lacking or not reads_back(name, line):
            where = row.place_of(lacking[0]) if lacking else row.place
            said = f"the row lacks {', '.join(lacking)}" if lacking else "this cannot be written on one line"
            answers.problems.append(Problem(where, said, one_line(name, line), EXAMPLE))
        elif name in seen:
            first = seen[name].place.line
            answers.problems.append(Problem(row.place, f"`{name}` stands on line {first}, too"))
        elif known.get(name) == line:
            answers.known.append(f"circuit {name}")
        else:
            answers.fitted.setdefault("circuits", {})[name] = one_line(name, line)
            answers.said.append(f"circuits.{name}: {one_line(name, line)}")
        seen.setdefault(name, row)
    answers.problems.sort()
    return answers
