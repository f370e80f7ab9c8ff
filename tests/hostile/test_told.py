"""Texts of a register from anybody, told on a terminal, in letters, orders, labels and tables: they stay texts."""

from __future__ import annotations

import csv
import io
import json
import os
from html.parser import HTMLParser
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from markdown_it import MarkdownIt

from specreg.cli.commands import cli
from specreg.cli.terminal import STEERING, unsteering

TEXTS = (
    "<script>window.harmed=1</script>",
    "\"><img src=x onerror=window.harmed=1>",
    "[x](javascript:alert(1)) ![x](http://harm.invalid/x.png) <http://harm.invalid>",
    "x\n\n# Forged heading\n\nReceived on: 2026-01-01 Signature: N",
    "x\n- forged item\n1. forged item\n> forged\n\n    forged code",
    "*_`~|\\ {{ 7 * 7 }} {% raw %}",
    "=HYPERLINK(\"http://harm.invalid\")",
    "+1+cmd",
    "@SUM(A1)",
    "-2+3",
    "\t=1+1",
    "x\r\nBEGIN:VEVENT",
    "</textarea></style></title><svg onload=window.harmed=1>",
)  # fmt: skip


def asked(*words: str | Path) -> Result:
    """A command that must answer."""
    done = CliRunner().invoke(cli, [str(word) for word in words], catch_exceptions=False)
    assert done.exit_code in (0, 1, 2), done.output
    return done


def spec(number: int) -> str:
    """A van with texts in every place of free words, each another one."""
    text = [json.dumps(TEXTS[(number + at) % len(TEXTS)].replace("\r", "")) for at in range(12)]
    return f"""format: 1
build: van
title: {text[0]}
stage: design
jurisdictions: [uk]
components:
  battery: {{kind: battery, nominal_voltage: 12 V, capacity: 100 Ah, maker: {text[1]}, model: {text[2]}, label: {text[3]},
    serial: {text[4]}, note: {text[5]}, part: p}}
  box: {{kind: fuse-box, label: {text[6]}, ways: {{"1": {{fuse: 10 A, label: {text[7]}}}}}}}
  lamp: {{kind: ceiling-light, power: 5 W, title: {text[8]}, maker: {text[9]}}}
runs:
  feed: {{medium: dc, from: battery/positive, to: box/feed, conductor: 10 mm², length: 1 m, return: chassis, note: {text[10]}}}
  lamp-feed: {{medium: dc, from: box/1, to: lamp/supply, conductor: 1 mm², length: 2 m, return: chassis, label: {text[11]}}}
"""


@pytest.fixture(params=range(0, len(TEXTS), 3))
def vans(tmp_path: Path, request: pytest.FixtureRequest) -> Path:
    """A register with such a van, a recall and a part likewise."""
    folder = tmp_path / "vans"
    for below in ("van", "parts", "recalls"):
        (folder / below).mkdir(parents=True)
    (folder / "van" / "spec.yaml").write_text(spec(request.param))
    said = json.dumps(TEXTS[request.param].replace("\r", ""))
    (folder / "register.yaml").write_text(f"format: 1\nworkshop: {said}\n")
    (folder / "parts" / "p.yaml").write_text(f"p: {{kind: battery, title: {said}}}\n")
    recall = f"title: {said}\nsource: {said}\ndate: 2026-01-01\ndo: {said}\naffects:\n  - {{part: p}}\n"
    (folder / "recalls" / "r.yaml").write_text(recall)
    (folder / "van" / "private.yaml").write_text(
        f"vehicle: {{identity: {{owner: {said}, contact: {said}}}}}\n"
    )
    return folder


class Markup(HTMLParser):
    """The elements and links of a page."""

    def __init__(self, text: str) -> None:
        super().__init__()
        self.tags: list[str] = []
        self.harm: list[str] = []
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Note elements that run or fetch, handlers, and links that lead out."""
        self.tags.append(tag)
        for key, value in attrs:
            lead = (value or "").strip().lower()
            if key.startswith("on") or (
                key in ("href", "src") and lead.startswith(("javascript:", "http", "//", "data:text"))
            ):
                self.harm.append(f"{tag} {key}={value}")
        if tag in ("script", "iframe", "object", "embed", "img", "form", "base"):
            self.harm.append(tag)


def rendered(markdown: str) -> Markup:
    """A document in Markdown as a program shows it that lets HTML through."""
    return Markup(MarkdownIt("commonmark", {"html": True}).enable("table").render(markdown))


def test_letters_and_orders_hold_texts_only(vans: Path) -> None:
    """A notice of a recall and a change order in Markdown: no markup, no heading and no item of a text's own."""
    notices = vans.parent / "notices"
    asked("find", vans, "--recall", "r", "--notices", notices)
    [notice] = [path.read_text() for path in notices.iterdir()]
    order = asked(
        "compare", vans / "van", "--with", "components.lamp.power=6 W", "--format", "change-order"
    ).stdout
    for document in (notice, order):
        shown = rendered(document)
        assert shown.harm == []
        assert not {"blockquote", "pre", "code", "em"} & set(shown.tags)
    assert [line for line in notice.splitlines() if line.startswith("#")][1:] == [
        "## What is concerned",
        "## What to do",
    ]
    assert sum(line.startswith("- ") for line in notice.splitlines()) == 1
    assert [line for line in order.splitlines() if line.startswith("# ")] == [
        "# Change order ______________________"
    ]
    assert "Forged" not in "".join(line for line in order.splitlines() if line.startswith("#"))


def test_labels_hold_texts_only(vans: Path) -> None:
    """The sheet of labels, with codes that lead to pages."""
    into = vans.parent / "labels.html"
    asked("labels", vans / "van", "--into", into, "--at", "https://van.invalid/x")
    text = into.read_text()
    assert any(word in text for word in ("harmed", "orged", "+cmd", "SUM(A1)"))
    assert [harm for harm in Markup(text).harm if "van.invalid" not in harm] == []


TABLES = (
    ("figures", "--format", "csv"), ("schedule", "--format", "csv"), ("schedule", "--for", "electrician", "--format", "csv"),
    ("schedule", "--at", "panels-close", "--format", "csv"), ("plan", "--format", "csv"), ("order", "--all", "--format", "csv"),
)  # fmt: skip


@pytest.mark.parametrize("words", TABLES, ids=lambda words: "-".join(words[:3:2]))
def test_no_cell_begins_like_a_formula(words: tuple[str, ...], vans: Path) -> None:
    """In every table that is printed; a number may begin with its sign."""
    rows = list(csv.reader(io.StringIO(asked(words[0], vans / "van", *words[1:]).stdout)))
    assert len(rows) > 1
    for cell in (cell for row in rows for cell in row):
        assert not cell.startswith(("=", "+", "@", "\t", "\r", "-2+3")), cell


# terminals

ESCAPES = (
    "\x1b]0;owned\x07",
    "\x1b[2J\x1b[H",
    "\x9b31m",
    "\x08\x08",
    "\u202eabc\u202c",
    "\u2066x",
    "\r",
    "\x00",
)


def test_what_steers_a_terminal_is_made_visible() -> None:
    """Each of them in a line; colours and line ends pass."""
    for escape in ESCAPES:
        shown = unsteering(f"a{escape}b\n")
        assert shown.endswith("b\n") and not STEERING.search(shown), repr(shown)
    assert unsteering("\x1b[31mred\x1b[0m\tline\n") == "\x1b[31mred\x1b[0m\tline\n"


@pytest.mark.skipif(os.name != "posix", reason="names of POSIX")
def test_names_of_files_steer_no_terminal(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Folders and files may be called anything; each command names them."""
    name = "va\x1b]0;owned\x07\u202en"
    for file in (
        f"{name}/spec.yaml",
        f"{name}/\x1b[2J.yaml",
        "parts/\x9bp.yaml",
        "rules/dc/\x1b[2J.md",
        f"{name}/procedures/\x1b[2J.md",
    ):
        (tmp_path / "vans" / file).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / "vans" / file).write_text(
            "title: x\nformat: 1\nnote: [\n" if file.endswith("yaml") else "[a](javascript:x)\n"
        )
    (tmp_path / "vans" / name / "spec.yaml").write_text(
        f"format: 1\nbuild: {json.dumps('van')}\ntitle: T\nstage: design\njurisdictions: [uk]\n"
    )
    monkeypatch.chdir(tmp_path)
    site = tmp_path / "site"
    for words in (("inspect", "vans"), ("find", "vans", "x"), ("figures", "vans"), ("plan", "vans"), ("rules", "--register", "vans"),
                  ("publish", "vans", "--reader", "owner", "--into", str(site)), ("inspect", f"vans/{name}"), ("compare", f"vans/{name}")):  # fmt: skip
        output = asked(*words).output
        assert not STEERING.search(output), (words, STEERING.search(output))


@pytest.mark.parametrize("escape", ["\\e]0;x\\a", "\\x9b31m", "\\u202eabc", "\\r"])
def test_a_text_that_steers_is_refused(escape: str, tmp_path: Path) -> None:
    """Wherever it stands in a spec: what is printed is not all that is made of a text."""
    (tmp_path / "van").mkdir()
    (tmp_path / "van" / "spec.yaml").write_text(
        f'format: 1\nbuild: van\ntitle: "a{escape}b"\nstage: design\njurisdictions: [uk]\n'
    )
    done = asked("inspect", tmp_path / "van")
    assert (
        done.exit_code == 2
        and "spec.yaml:3:8: problem: a character that does not belong into a spec" in done.stderr
    )
