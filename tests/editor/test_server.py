"""The language server, asked by a real client over pipes, on a copy of the demo register."""

from __future__ import annotations

import asyncio
import random
import shutil
from collections.abc import Awaitable, Callable
from pathlib import Path

import pytest
from editor_client import Editor, editing
from lsprotocol import types as lsp

BUILDS = Path(__file__).parents[2] / "builds"


@pytest.fixture
def register(tmp_path: Path) -> Path:
    """A copy of the demo register."""
    return Path(shutil.copytree(BUILDS, tmp_path / "builds"))


def asked(register: Path, question: Callable[[Editor], Awaitable[None]]) -> None:
    """Put a question to a server that is started for it."""

    async def run() -> None:
        async with editing(register) as editor:
            await question(editor)

    asyncio.run(run())


def spot(text: str, needle: str, into: int = 0) -> lsp.Position:
    """Where a piece of a text stands, in UTF-16 units."""
    at = text.index(needle) + into
    line = text.count("\n", 0, at)
    begin = text.rfind("\n", 0, at) + 1
    return lsp.Position(line, len(text[begin:at].encode("utf-16-le")) // 2)


def test_a_broken_key_is_told_with_its_place_and_mended_by_the_nearest_word(register: Path) -> None:
    """While a key is wrong, a diagnostic stands on it and a quick fix writes the right one."""
    path = register / "fieldwork" / "spec.yaml"
    before = path.read_text(encoding="utf-8")
    broken = before.replace("  wheelbase: 4035 mm", "  wheelbse: 4035 mm")

    async def question(editor: Editor) -> None:
        uri = editor.open(path)
        findings = await editor.until(uri, lambda told: True)
        assert all(one.severity != lsp.DiagnosticSeverity.Error for one in findings)
        editor.write(uri, broken)
        told = await editor.until(uri, lambda told: any("wheelbse" in one.message for one in told))
        (problem,) = [one for one in told if one.severity == lsp.DiagnosticSeverity.Error]
        assert problem.range == lsp.Range(spot(broken, "wheelbse"), spot(broken, "wheelbse", 8))
        assert 'nearest is "wheelbase"' in problem.message
        document = lsp.TextDocumentIdentifier(uri)
        actions = await editor.text_document_code_action_async(
            lsp.CodeActionParams(document, problem.range, lsp.CodeActionContext([problem]))
        )
        (fix,) = actions or []
        assert isinstance(fix, lsp.CodeAction) and fix.edit is not None and fix.edit.changes is not None
        (edit,) = fix.edit.changes[uri]
        assert isinstance(edit, lsp.TextEdit)
        assert (edit.new_text, edit.range) == ("wheelbase", problem.range)
        editor.write(uri, before)
        await editor.until(uri, lambda told: not any("wheelbse" in one.message for one in told))
        assert path.read_text(encoding="utf-8") == before

    asked(register, question)


def test_findings_carry_their_rule_and_a_link_to_it(register: Path) -> None:
    """A finding's code is its rule's identity, and the link leads to the rule's document."""
    path = register / "second-hand" / "spec.yaml"

    async def question(editor: Editor) -> None:
        uri = editor.open(path)
        told = await editor.until(uri, bool)
        errors = [one for one in told if one.severity == lsp.DiagnosticSeverity.Error]
        assert errors and all(one.source == "specreg" for one in told)
        for one in errors:
            assert one.code_description is not None
            assert one.code_description.href.endswith(f"{one.code}.md")

    asked(register, question)


def test_hover_completion_and_definition_of_a_component(register: Path) -> None:
    """A component's figures on its key, its part in the catalogue, the words that its fields may have."""
    path = register / "fieldwork" / "electrics.yaml"
    text = path.read_text(encoding="utf-8")

    async def question(editor: Editor) -> None:
        uri = editor.open(path)
        document = lsp.TextDocumentIdentifier(uri)
        await editor.until(uri, lambda told: True)
        at = spot(text, "\n  fridge: {", 4)
        found = await editor.text_document_hover_async(lsp.HoverParams(document, at))
        assert found is not None and isinstance(found.contents, lsp.MarkupContent)
        for said in ("**fridge**", "Voltage lost between the battery and the load", "Mass that"):
            assert said in found.contents.value
        at = spot(text, "part: compressor-fridge-60", 8)
        places = await editor.text_document_definition_async(lsp.DefinitionParams(document, at))
        assert isinstance(places, list) and isinstance(places[0], lsp.Location)
        target = Path(places[0].uri.removeprefix("file://"))
        assert target.parent.name == "parts"
        line = target.read_text(encoding="utf-8").splitlines()[places[0].range.start.line]
        assert line.startswith("compressor-fridge-60:")
        at = spot(text, "kind: fridge, part", 6)
        offered = await editor.text_document_completion_async(lsp.CompletionParams(document, at))
        assert isinstance(offered, lsp.CompletionList)
        assert {"fridge", "battery", "air-heater"} <= {one.label for one in offered.items}

    asked(register, question)


@pytest.mark.parametrize(
    ("encodings", "more"),
    [(None, 1), ([lsp.PositionEncodingKind.Utf32], 0), ([lsp.PositionEncodingKind.Utf8], 3 + 1 + 2)],
)
def test_positions_count_as_was_agreed(
    register: Path, encodings: list[lsp.PositionEncodingKind | str] | None, more: int
) -> None:
    """What stands behind `🚐², –` begins 1 unit later in UTF-16, 6 in UTF-8: 4, 2 and 3 bytes for 3 characters."""
    path = register / "fieldwork" / "spec.yaml"
    galley = 'galley: {title: "Galley, left", at: [2550 mm, -935 mm, 0 mm], size:'
    wrong = 'galley: {title: "🚐², – left", at: [2550 mm, -935 mm, 0 mm], siz:'
    text = path.read_text(encoding="utf-8").replace(galley, wrong, 1)
    row = next(number for number, line in enumerate(text.splitlines()) if wrong in line)
    column = text.splitlines()[row].index("siz:") + more

    async def run() -> None:
        async with editing(register, encodings) as editor:
            uri = editor.open(path, text)
            told = await editor.until(uri, lambda told: any("`siz`" in one.message for one in told))
            (problem,) = [one for one in told if "unknown key `siz`" in one.message]
            assert problem.range == lsp.Range(lsp.Position(row, column), lsp.Position(row, column + 3))

    asyncio.run(run())


def test_random_edits_are_survived_by_the_running_server(register: Path) -> None:
    """After a storm of broken texts the server still answers, and tells the truth about the last one."""
    path = register / "pocket" / "spec.yaml"
    text = path.read_text(encoding="utf-8")
    dice = random.Random(20260520)

    def damaged() -> str:
        start = dice.randrange(len(text))
        sign = dice.choice(["{", "]", ": ", "\t", "\n- ", "&a ", '"', "🚐", "\u2028", ""])
        return text[:start] + sign + text[start + dice.randrange(30) :]

    async def question(editor: Editor) -> None:
        uri = editor.open(path)
        document = lsp.TextDocumentIdentifier(uri)
        for turn in range(25):
            editor.write(uri, damaged())
            at = lsp.Position(dice.randrange(90), dice.randrange(120))
            await editor.text_document_completion_async(lsp.CompletionParams(document, at))
            await editor.text_document_hover_async(lsp.HoverParams(document, at))
            await editor.text_document_definition_async(lsp.DefinitionParams(document, at))
            await editor.text_document_document_symbol_async(lsp.DocumentSymbolParams(document))
            if turn % 5 == 4:
                await asyncio.sleep(0.4)
        editor.write(uri, text.replace("stage:", "stge:", 1))
        told = await editor.until(uri, lambda told: any("unknown key `stge`" in one.message for one in told))
        assert all(one.range.start.line < len(text.splitlines()) for one in told)

    asked(register, question)


def test_a_file_that_changes_beside_the_editor_is_read_again(register: Path) -> None:
    """A part that another program has changed counts at once, when the editor tells of it."""
    path, parts = register / "pocket" / "spec.yaml", register / "parts" / "pocket.yaml"

    async def question(editor: Editor) -> None:
        uri = editor.open(path)
        await editor.until(uri, lambda told: True)
        assert lsp.WORKSPACE_DID_CHANGE_WATCHED_FILES in editor.watching
        text = parts.read_text(encoding="utf-8")
        parts.write_text(text.replace("kind: battery", "kind: batery", 1), encoding="utf-8")
        editor.workspace_did_change_watched_files(
            lsp.DidChangeWatchedFilesParams([lsp.FileEvent(parts.as_uri(), lsp.FileChangeType.Changed)])
        )
        await editor.until(parts.as_uri(), lambda told: any("unknown kind" in one.message for one in told))

    asked(register, question)
