"""A register that was written by somebody who means harm: nothing runs, nothing is read or written outside."""

from __future__ import annotations

import csv
import io
import json
import os
import subprocess
import sys
from collections.abc import Iterator
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from test_readers import every_kind

from specreg.cli.commands import cli
from specreg.facts.field_type import type_of_field
from specreg.model.field import Reader
from specreg.pages.publish import publish

ROOT = Path(__file__).parents[2]

INJECTIONS = (
    "<script>window.harmed=1</script>",
    "\"><img src=x onerror=\"window.harmed=1\">",
    "'><svg/onload=window.harmed=1>",
    "</script><script>window.harmed=1</script>",
    "</style></title></textarea><iframe src=javascript:window.harmed=1>",
    "{{ 7*7 }}${window.harmed=1}",
    "javascript:window.harmed=1",
    "\u2028window.harmed=1//",
    "]]><!--<a href=http://harm.invalid>x</a>",
    "=HYPERLINK(\"http://harm.invalid\",\"x\")",
    "\\\");window.harmed=1;//",
    "x\r\nDESCRIPTION:y",
)  # fmt: skip
"""One after the other goes into the text fields of the model."""


class Texts:
    """Hands out the injections by turns."""

    def __init__(self) -> None:
        self.given = 0

    def next(self) -> str:
        """The next of them, with a number by which it can be told."""
        self.given += 1
        return f"{INJECTIONS[self.given % len(INJECTIONS)]} n{self.given}"


def injected(value: object, texts: Texts) -> object:
    """A model with injections in every text field that is not one of a list of words."""
    from pydantic import BaseModel

    if isinstance(value, BaseModel):
        changed: dict[str, object] = {}
        for name in type(value).model_fields:
            kind = type_of_field(type(value), name)
            old = getattr(value, name)
            if kind is not None and kind.form == "text" and not kind.choices and name not in LEFT:
                changed[name] = texts.next()
            else:
                changed[name] = injected(old, texts)
        return value.model_copy(update=changed)
    if isinstance(value, tuple):
        return tuple(injected(item, texts) for item in value)
    if isinstance(value, dict):
        return {key: injected(item, texts) for key, item in value.items()}
    return value


LEFT = {
    "kind",
    "medium",
    "start",
    "finish",
    "returns",
    "fixed_to",
    "zone",
    "build",
    "matter",
    "target",
    "part",
    "usual_shape",
    "under",
    "shape",
}
"""References, which must lead somewhere for the van to be read at all."""

OWN_RULE = """---
title: "<script>window.harmed=1</script> is told"
system: dc
level: warning
judges: battery
passes: battery.maker == "nobody"
finding: "<img src=x onerror=window.harmed=1> by {{ battery.maker }}"
remedy: "</script><script>window.harmed=1</script>"
sources: [{document: "<svg onload=window.harmed=1>", clause: "\\"><b>", edition: "2020", how: memory}]
---
<script>window.harmed=1</script> [x](javascript:window.harmed=1) ![x](http://harm.invalid/x.png)
"""

PROCEDURE = """# <script>window.harmed=1</script>

<img src=x onerror=window.harmed=1> [a](javascript:window.harmed=1) [b](JaVaScRiPt:window.harmed=1)
![c](http://harm.invalid/x.png) [d](data:text/html,<script>window.harmed=1</script>) <http://harm.invalid>
[e](//harm.invalid) [f](&#106;avascript:window.harmed=1) [g](component:"><script>window.harmed=1</script>)

> DANGER: <script>window.harmed=1</script>
"""


@pytest.fixture(scope="module")
def site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Every kind with injections in its texts, published for the workshop with a rule and a procedure likewise."""
    from dataclasses import replace

    from specreg import workshop
    from specreg.source import Problem

    folder = tmp_path_factory.mktemp("hostile")
    van = folder / "vans" / "van"
    (van / "procedures").mkdir(parents=True)
    (van / "spec.yaml").write_text("format: 1\n")
    (van / "procedures" / "harm.md").write_text(PROCEDURE)
    if os.name == "posix":
        (van / "procedures" / '"><img src=x onerror=window.harmed=1>.md').write_text("no heading\n")
    rule = folder / "vans" / "rules" / "dc" / "told.md"
    rule.parent.mkdir(parents=True)
    rule.write_text(OWN_RULE)
    texts = Texts()
    build = every_kind()
    build = replace(
        build,
        header=injected(build.header, texts),  # type: ignore[arg-type]
        components={name: injected(one, texts) for name, one in build.components.items()},  # type: ignore[misc]
        runs={name: injected(one, texts) for name, one in build.runs.items()},  # type: ignore[misc]
        designations={
            name: f"-X{number}<script>window.harmed=1</script>"
            for number, name in enumerate(build.components)
        },
    )
    build = replace(build, header=build.header.model_copy(update={"build": "van"}))
    assert texts.given > 500
    with pytest.MonkeyPatch.context() as patch:
        loaded = workshop.Loaded("van", van, build, ())
        found: tuple[Problem, ...] = ()
        opened = workshop.Opened(van.parent, "vans", (loaded,), found)
        patch.setattr(workshop, "load", lambda _: opened)
        published = publish(van, Reader.workshop, folder / "site")
    assert published.files
    return folder / "site"


class Read(HTMLParser):
    """What a browser would take for markup: elements that run or fetch, and handlers."""

    def __init__(self) -> None:
        super().__init__()
        self.harm: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        told = {key: value or "" for key, value in attrs}
        if tag in ("iframe", "object", "embed", "base", "form") or any(key.startswith("on") for key in told):
            self.harm.append(f"{tag} {told}")
        for key in ("href", "src", "action", "xlink:href"):
            link = told.get(key, "").strip().lower()
            if link.startswith(("javascript:", "http:", "https:", "//", "vbscript:", "data:text")):
                self.harm.append(f"{tag} {key}={link}")
        if tag == "script" and told.get("src") not in (None, "book.js", "search.js", "../book.js"):
            self.harm.append(f"script {told}")


def test_no_page_holds_markup_from_a_field(site: Path) -> None:
    """Every page and the book in one file: no handler, no foreign link, no element that fetches."""
    pages = sorted(site.rglob("*.html"))
    assert len(pages) > 15
    for page in pages:
        reader = Read()
        reader.feed(page.read_text(encoding="utf-8"))
        assert reader.harm == [], page.name


def test_the_texts_are_there(site: Path) -> None:
    """They did reach the pages, as text: else the tests above would prove nothing."""
    whole = "".join(page.read_text(encoding="utf-8") for page in site.rglob("*.html"))
    assert whole.count("window.harmed") > 200
    assert "&lt;script&gt;window.harmed=1&lt;/script&gt;" in whole


def test_scripts_and_data_hold_texts_as_texts(site: Path) -> None:
    """The list for the search is JSON in one call; `check.json` is JSON; nothing ends a script from within."""
    text = (site / "search.js").read_text(encoding="utf-8")
    assert "</script" not in text.lower()
    json.loads(text[text.index("[") : text.rindex("]") + 1])
    json.loads((site / "check.json").read_text(encoding="utf-8"))


def test_the_calendar_has_only_lines_of_its_own(site: Path) -> None:
    """A line break in a text cannot begin a property (RFC 5545, 3.3.11)."""
    known = ("BEGIN", "END", "VERSION", "PRODID", "CALSCALE", "UID", "DTSTAMP", "DTSTART", "RRULE", "SUMMARY", "DESCRIPTION",
             "CATEGORIES", "TRANSP", "METHOD", "X-", "DTEND", "SEQUENCE", " ")  # fmt: skip
    text = (site / "care.ics").read_bytes().decode("utf-8")
    assert "\r\n" in text
    lines = text.split("\r\n")
    assert [line for line in lines if line and not line.startswith(known)] == []
    events = text.count("BEGIN:VEVENT")
    assert text.count("\r\nDESCRIPTION") <= events


@pytest.mark.browser
def test_nothing_runs_in_a_browser(site: Path) -> None:
    """Each page in Chromium: no script of a field ran, no dialog opened, no request left the folder."""
    api = pytest.importorskip("playwright.sync_api")
    if not Path("/usr/bin/chromium").exists():
        if os.environ.get("SPECREG_NO_SKIPS"):
            pytest.fail("there is no browser, and nothing may be skipped")
        pytest.skip("there is no browser")
    with api.sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path="/usr/bin/chromium",
            args=["--no-sandbox", "--disable-gpu", "--disable-background-networking"],
        )
        page = browser.new_page()
        noise: list[str] = []

        def dismissed(dialog: Any) -> None:
            noise.append(f"dialog {dialog.message}")
            dialog.dismiss()

        page.on("dialog", dismissed)
        page.on(
            "request",
            lambda asked: noise.append(asked.url) if not asked.url.startswith(("file:", "data:")) else None,
        )
        page.on("pageerror", lambda error: noise.append(str(error)))
        for file in sorted(site.rglob("*.html")):
            page.goto(file.as_uri())
            noise += [f"{file.name}: a script ran"] if page.evaluate("'harmed' in window") else []
        page.goto((site / "find.html").as_uri())
        page.locator("input").first.fill("harmed")
        page.wait_for_timeout(200)
        noise += ["find: a script ran"] if page.evaluate("'harmed' in window") else []
        browser.close()
    assert noise == []


HEAD = "format: 1\nbuild: van\ntitle: T\nstage: design\njurisdictions: [uk]\n"


def answered(*words: str) -> Result:
    """What a command answers in the current folder, which is no fault of the program, as one that runs is told."""
    result = CliRunner().invoke(cli, words)
    assert result.exception is None or isinstance(result.exception, SystemExit), result.exception
    return result


def specreg(folder: Path, *words: str, **environment: str) -> subprocess.CompletedProcess[str]:
    """A command as a process of its own; `-P` as the installed command has it: no modules from where it runs."""
    return subprocess.run(
        [sys.executable, "-P", "-m", "specreg", *words], cwd=folder, capture_output=True, text=True, check=False, timeout=120,
        env={**os.environ, "PYTHONPATH": str(ROOT), **environment},
    )  # fmt: skip


def test_a_spreadsheet_computes_nothing(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A cell that begins like a formula is guarded by an apostrophe in every table that is printed."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "van").mkdir()
    formula = "=cmd|' /C calc'!A0"
    texts = f'label: "{formula}", title: "+1+cmd", maker: "@x", note: "-2+3"'
    spec = f'{HEAD}components:\n  box: {{kind: fuse-box, {texts}, ways: {{a: {{fuse: 10 A, label: "{formula}"}}}}}}\n'
    (tmp_path / "van" / "spec.yaml").write_text(spec)
    for words in (("schedule", "van"), ("figures", "van"), ("find", ".", "kind=fuse-box")):
        done = answered(*words, "--format", "csv")
        rows = list(csv.reader(io.StringIO(done.stdout)))
        assert len(rows) > 1, done.stderr
        assert [cell for row in rows for cell in row if cell[:1] in ("=", "+", "@", "\t")] == []
        assert [cell for row in rows for cell in row if cell.startswith("-2+3")] == []


def links() -> Iterator[tuple[str, str]]:
    """Places of a register where a link to a file outside could stand."""
    yield "van/private.yaml", "secret.yaml"
    yield "van/more.yaml", "secret.yaml"
    yield "parts/more.yaml", "secret.yaml"
    yield "assemblies/more.yaml", "secret.yaml"
    yield "register.yaml", "secret.yaml"
    yield "van/procedures/how.md", "secret.yaml"
    yield "van/designations.yaml", "secret.yaml"
    yield "rules/dc/own.md", "secret.yaml"


@pytest.mark.skipif(os.name != "posix", reason="links of POSIX")
@pytest.mark.parametrize("reader", ["public", "workshop"])
@pytest.mark.parametrize(("name", "target"), list(links()))
def test_a_link_out_of_the_register_tells_nothing(
    name: str, target: str, reader: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A file of the user's that a link of a cloned register points to does not reach the pages."""
    monkeypatch.chdir(tmp_path)
    vans = tmp_path / "vans"
    (vans / "van").mkdir(parents=True)
    (vans / "van" / "spec.yaml").write_text(f"{HEAD}components:\n  bar: {{kind: bus-bar, studs: 4}}\n")
    secret = tmp_path / target
    secret.write_text("# canary-of-the-user\ncanary-of-the-user: canary-of-the-user\n")
    place = vans / name
    place.parent.mkdir(parents=True, exist_ok=True)
    place.symlink_to(secret)
    answered("publish", "vans/van", "--reader", reader, "--into", "site")
    written = "".join(
        file.read_text("utf-8", "replace") for file in (tmp_path / "site").rglob("*") if file.is_file()
    )
    assert "canary-of-the-user" not in written


@pytest.mark.parametrize(
    "name", ["../../secret", "/etc/passwd", "..", "a/../../secret", "\\..\\secret", "secret\n"]
)
def test_a_name_cannot_lead_out_of_the_register(
    name: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Names of assemblies, parts and recalls are looked up among those that are there; nothing opens a path."""
    monkeypatch.chdir(tmp_path)
    vans = tmp_path / "vans"
    (vans / "van").mkdir(parents=True)
    (tmp_path / "secret.yaml").write_text("components: {canary: {kind: bus-bar}}\n")
    quoted = json.dumps(name)
    for text in (f"include: [{{assembly: {quoted}}}]\n", f"components: {{a: {{part: {quoted}}}}}\n"):
        (vans / "van" / "spec.yaml").write_text(HEAD + text)
        done = answered("inspect", "vans")
        assert done.exit_code == 2 and "canary" not in done.output
    done = answered("find", "vans", "--recall", name)
    assert done.exit_code == 2 and "there is no such recall" in done.stderr


TRAPS = {
    "vans/sitecustomize.py": "open('ran', 'w')\n",
    "vans/specreg.py": "open('ran', 'w')\n",
    "vans/yaml.py": "open('ran', 'w')\n",
    "vans/rules/__init__.py": "open('ran', 'w')\n",
    "vans/rules/dc/own.py": "open('ran', 'w')\n",
    "vans/conftest.py": "open('ran', 'w')\n",
    "vans/templates/page.html": "{{ ''.__class__.__mro__ }}canary-template",
    "vans/site/templates/page.html": "canary-template",
    "vans/.cache/specreg/pack.bin": "\0",
    "vans/van/__pycache__/x.pyc": "\0",
    "vans/rules/dc/own.md": OWN_RULE.replace(
        'battery.maker == "nobody"', "''.__class__.__mro__[1].__subclasses__()"
    ),
}
"""Files of a cloned register that would run if anything looked for code in it."""


def test_a_cloned_register_runs_nothing(tmp_path: Path) -> None:
    """No module, template, hook or setting of git, no kept file of the register is run or taken."""
    (tmp_path / "vans" / "van").mkdir(parents=True)
    (tmp_path / "vans" / "van" / "spec.yaml").write_text(f"{HEAD}components:\n  bar: {{kind: bus-bar}}\n")
    for name, text in TRAPS.items():
        (tmp_path / name).parent.mkdir(parents=True, exist_ok=True)
        (tmp_path / name).write_text(text)
    git = ("git", "-c", "user.name=n", "-c", "user.email=e@x.invalid", "-C", str(tmp_path / "vans"))
    subprocess.run([*git, "init", "-q"], check=True)
    subprocess.run([*git, "add", "."], check=True)
    subprocess.run([*git, "commit", "-q", "-m", "x"], check=True)
    ran = tmp_path / "ran"
    script = tmp_path / "vans" / "trap.sh"
    script.write_text(f"#!/bin/sh\ntouch {ran}\ncat\n")
    script.chmod(0o755)
    for hook in (
        "post-checkout",
        "pre-commit",
        "post-index-change",
        "reference-transaction",
        "fsmonitor-watchman",
    ):
        place = tmp_path / "vans" / ".git" / "hooks" / hook
        place.write_text(script.read_text())
        place.chmod(0o755)
    for setting in ("core.fsmonitor", "core.pager", "diff.external", "core.sshCommand", "filter.trap.smudge", "filter.trap.clean",
                    "diff.trap.textconv", "core.editor", "pager.show", "alias.show"):  # fmt: skip
        subprocess.run(
            [*git, "config", setting, f"!{script}" if setting.startswith("alias") else str(script)],
            check=True,
        )
    (tmp_path / "vans" / ".gitattributes").write_text("*.yaml filter=trap diff=trap\n")
    (tmp_path / "vans" / "van" / "spec.yaml").write_text(
        f"{HEAD}components:\n  bar: {{kind: bus-bar, studs: 5}}\n"
    )
    (tmp_path / "vans" / ".env").write_text(f"PATH={tmp_path}\nPYTHONSTARTUP=trap.py\n")
    for words in (("inspect", "van"), ("compare", "van"), ("figures", "van"), ("find", ".", "kind=bus-bar"),
                  ("compare", "van", "--from", "HEAD"), ("publish", "van", "--reader", "owner", "--into", "../site"),
                  ("inspect", ".", "--changed-since", "HEAD"), ("publish", "van", "--reader", "owner", "--into", "../site", "--since", "HEAD"),
                  ("plan", "."), ("order", "van"), ("rules", "--register", ".")):  # fmt: skip
        done = specreg(tmp_path / "vans", *words, HOME=str(tmp_path / "home"))
        assert "fault of its own" not in done.stderr, done.stderr
        assert not ran.exists(), words
        assert not (tmp_path / "vans" / "ran").exists(), words
    assert "canary-template" not in (tmp_path / "site" / "index.html").read_text()
    for plain in (("status",), ("diff",), ("add", "van")):
        ran.unlink(missing_ok=True)
        subprocess.run([*git, *plain], check=False, capture_output=True, stdin=subprocess.DEVNULL)
        assert ran.exists(), f"the trap does not work: git {plain[0]} runs nothing of it"


@pytest.mark.parametrize(
    "rev", ["--output=ran", "-O/tmp", "--upload-pack=x", "HEAD;touch ran", "HEAD:../x", ""]
)
def test_a_revision_is_no_option_and_no_command(
    rev: str, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """What is given as a revision reaches git as a revision only."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "van").mkdir()
    (tmp_path / "van" / "spec.yaml").write_text(HEAD)
    git = ("git", "-c", "user.name=n", "-c", "user.email=e@x.invalid", "-C", str(tmp_path))
    subprocess.run([*git, "init", "-q"], check=True)
    subprocess.run([*git, "add", "."], check=True)
    subprocess.run([*git, "commit", "-q", "-m", "x"], check=True)
    assert answered("compare", "van", f"--from={rev}").exit_code in (0, 2)
    assert sorted(path.name for path in tmp_path.iterdir()) == [".git", "van"]
