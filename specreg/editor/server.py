"""The answers over the Language Server Protocol (LSP 3.17) on standard input and output."""

from __future__ import annotations

import asyncio
import gc
import os
import sys
from collections.abc import Iterable, Iterator
from dataclasses import replace
from pathlib import Path

from lsprotocol import types as lsp
from pygls import uris
from pygls.lsp.server import LanguageServer

from specreg import __version__
from specreg.editor import completion as completing
from specreg.editor import fixes as fixing
from specreg.editor import hover as hovering
from specreg.editor import navigation, positions
from specreg.editor.notices import Notice, notices
from specreg.editor.outline import Span
from specreg.editor.reading import Reading, Van, home_of, judged, read
from specreg.rules.pack import Pack

PAUSE = 0.15
"""Seconds without a keystroke after which a text is read again."""

KINDS = {
    "key": lsp.CompletionItemKind.Property,
    "kind": lsp.CompletionItemKind.Class,
    "id": lsp.CompletionItemKind.Reference,
    "port": lsp.CompletionItemKind.Field,
    "part": lsp.CompletionItemKind.Module,
    "unit": lsp.CompletionItemKind.Unit,
    "word": lsp.CompletionItemKind.EnumMember,
    "rule": lsp.CompletionItemKind.Value,
}


class SpecServer(LanguageServer):
    """What is open in the editor, and how the registers that it belongs to read just now."""

    def __init__(self) -> None:
        super().__init__("specreg", __version__)
        self.readings: dict[Path, Reading] = {}
        self.found: dict[Path, tuple[Notice, ...]] = {}
        self.sound: dict[tuple[Path, str], Van] = {}
        self.shown: dict[Path, set[Path]] = {}
        self.waiting: dict[Path, asyncio.Task[None]] = {}
        self.packs: dict[Path, Pack] = {}
        self.one_at_a_time = asyncio.Lock()

    # what is open

    def texts(self, home: Path) -> dict[Path, str]:
        """Return the open texts of a register."""
        opened = {path_of(uri): one.source for uri, one in self.workspace.text_documents.items()}
        return {path: text for path, text in opened.items() if path and home_of(path) == home}

    def current(self, path: Path) -> Reading | None:
        """Return the reading that a file belongs to, with the texts as they are this moment."""
        home = home_of(path)
        reading = self.readings.get(home) if home else None
        if home is None:
            return None
        if reading is None:
            reading = self.readings[home] = read(home, self.texts(home))
        texts = self.texts(home)
        return reading if texts == reading.texts else replace(reading, texts=texts)

    def last_sound(self, reading: Reading) -> Reading:
        """Return the reading with the last sound state of a build in place of one that is broken now."""
        vans = {
            name: self.sound.get((reading.home, name), van) if van.problems else van
            for name, van in reading.vans.items()
        }
        return replace(reading, vans=vans)

    # reading and telling

    def read_soon(self, uri: str) -> None:
        """Read again once nobody has typed for a moment."""
        path = path_of(uri)
        home = home_of(path) if path else None
        if home is None:
            return
        before = self.waiting.get(home)
        if before is not None:
            before.cancel()
        self.waiting[home] = asyncio.ensure_future(self._after_a_pause(home))

    async def _after_a_pause(self, home: Path) -> None:
        await asyncio.sleep(PAUSE)
        try:
            async with self.one_at_a_time:
                await self._read(home)
        except Exception as fault:
            print(f"specreg: fault of its own: {type(fault).__name__}: {fault}", file=sys.stderr)

    async def _read(self, home: Path) -> None:
        """Read, tell what cannot be read at once, then judge and tell what was found."""
        texts = self.texts(home)
        reading = await asyncio.to_thread(read, home, texts)
        self._keep(reading)
        if any(van.problems for van in reading.vans.values()):
            self._tell(reading, (*notices(reading), *self._still_true(reading)))
        reading = await asyncio.to_thread(self._judge, reading)
        self._keep(reading)
        found = await asyncio.to_thread(notices, reading)
        self.found[home] = (*found, *self._still_true(reading))
        self._tell(reading, self.found[home])

    def _judge(self, reading: Reading) -> Reading:
        from specreg.workshop import Opened, rules_for  # noqa: PLC0415 - every fact is registered there

        pack = self.packs.get(reading.home)
        if pack is None:
            pack, _ = rules_for(Opened(reading.home, reading.register.shown))
            self.packs[reading.home] = pack
        return judged(reading, pack)

    def _keep(self, reading: Reading) -> None:
        before = self.readings.get(reading.home)
        if reading.pack is None and before is not None:
            reading = replace(reading, pack=before.pack)
        self.readings[reading.home] = reading
        for name, van in reading.vans.items():
            if van.build is not None and not van.problems:
                self.sound[reading.home, name] = van

    def _still_true(self, reading: Reading) -> Iterator[Notice]:
        """Yield the findings told last about builds that are broken now, in files that are as they were."""
        broken = {van.folder for van in reading.vans.values() if van.problems}
        for notice in self.found.get(reading.home, ()):
            old = notice.text
            if notice.result and notice.file.parent in broken and reading.outline(notice.file).lines == old:
                yield notice

    def _tell(self, reading: Reading, found: Iterable[Notice]) -> None:
        by_file: dict[Path, list[lsp.Diagnostic]] = {path: [] for path in self.shown.get(reading.home, set())}
        for notice in found:
            by_file.setdefault(notice.file, []).append(self.diagnostic(reading, notice))
        self.shown[reading.home] = {path for path, listed in by_file.items() if listed}
        for path, listed in sorted(by_file.items()):
            self.text_document_publish_diagnostics(lsp.PublishDiagnosticsParams(uri_of(path), listed))

    async def ask_for_news(self) -> None:
        """Ask the editor to tell of files that change beside it, if it can be asked."""
        workspace = self.client_capabilities.workspace
        watching = workspace.did_change_watched_files if workspace else None
        if watching is None or not watching.dynamic_registration:
            return
        watchers = [
            lsp.FileSystemWatcher(glob_pattern=pattern) for pattern in ("**/*.yaml", "**/rules/**/*.md")
        ]
        await self.client_register_capability_async(
            lsp.RegistrationParams(
                [
                    lsp.Registration(
                        id="files-beside",
                        method=lsp.WORKSPACE_DID_CHANGE_WATCHED_FILES,
                        register_options=lsp.DidChangeWatchedFilesRegistrationOptions(watchers=watchers),
                    )
                ]
            )
        )

    # values to the wire

    @property
    def encoding(self) -> positions.Encoding:
        """Return the units that the editor counts columns in."""
        agreed = str(getattr(self.workspace.position_encoding, "value", self.workspace.position_encoding))
        return "utf-8" if agreed == "utf-8" else "utf-32" if agreed == "utf-32" else "utf-16"

    def range(self, reading: Reading, file: Path, span: Span) -> lsp.Range:
        """Return a piece of a line as the editor counts it."""
        lines = reading.outline(file).lines
        line = lines[span.line] if span.line < len(lines) else ""
        start, end = (positions.units(line, column, self.encoding) for column in (span.start, span.end))
        return lsp.Range(lsp.Position(span.line, start), lsp.Position(span.line, end))

    def place(self, reading: Reading, file: Path, position: lsp.Position) -> tuple[int, int]:
        """Return the line and the column in code points, counted from 0."""
        lines = reading.outline(file).lines
        line = lines[position.line] if position.line < len(lines) else ""
        return position.line, positions.column(line, position.character, self.encoding)

    def location(self, reading: Reading, file: Path, span: Span) -> lsp.Location:
        """Return a place in a file."""
        return lsp.Location(uri_of(file), self.range(reading, file, span))

    def diagnostic(self, reading: Reading, notice: Notice) -> lsp.Diagnostic:
        """Return a notice as the protocol has it; its rule links to the rule's document."""
        document = navigation.rule_file(reading, notice.rule) if notice.rule else None
        return lsp.Diagnostic(
            range=self.range(reading, notice.file, notice.span),
            message=notice.message,
            severity=lsp.DiagnosticSeverity(int(notice.severity)),
            code=notice.rule or None,
            code_description=lsp.CodeDescription(uri_of(document)) if document else None,
            source="specreg",
            related_information=[
                lsp.DiagnosticRelatedInformation(self.location(reading, file, span), word)
                for file, span, word in notice.related
            ],
        )


def path_of(uri: str) -> Path | None:
    """Return the file that a URI names; None where it names none."""
    found = uris.to_fs_path(uri) if uri.startswith("file:") else None
    return Path(os.path.abspath(found)) if found else None  # noqa: PTH100 - links stay as they are


def uri_of(path: Path) -> str:
    """Return the URI of a file."""
    return uris.from_fs_path(str(path)) or path.as_uri()


def make_server() -> SpecServer:
    """Return the server with an answer to each question."""
    server = SpecServer()

    @server.feature(lsp.TEXT_DOCUMENT_DID_OPEN)
    def opened(server: SpecServer, params: lsp.DidOpenTextDocumentParams) -> None:
        server.read_soon(params.text_document.uri)

    @server.feature(lsp.TEXT_DOCUMENT_DID_CHANGE)
    def changed(server: SpecServer, params: lsp.DidChangeTextDocumentParams) -> None:
        server.read_soon(params.text_document.uri)

    @server.feature(lsp.TEXT_DOCUMENT_DID_SAVE)
    def saved(server: SpecServer, params: lsp.DidSaveTextDocumentParams) -> None:
        server.packs.clear()  # a rule of the register's own may have been saved beside
        server.read_soon(params.text_document.uri)

    @server.feature(lsp.TEXT_DOCUMENT_DID_CLOSE)
    def closed(server: SpecServer, params: lsp.DidCloseTextDocumentParams) -> None:
        server.read_soon(params.text_document.uri)

    @server.feature(lsp.WORKSPACE_DID_CHANGE_WATCHED_FILES)
    def changed_beside(server: SpecServer, params: lsp.DidChangeWatchedFilesParams) -> None:
        server.packs.clear()
        for change in params.changes:
            server.read_soon(change.uri)

    @server.feature(lsp.INITIALIZED)
    async def greeted(server: SpecServer, params: lsp.InitializedParams) -> None:
        await server.ask_for_news()

    @server.feature(lsp.TEXT_DOCUMENT_HOVER)
    def hover(server: SpecServer, params: lsp.HoverParams) -> lsp.Hover | None:
        path = path_of(params.text_document.uri)
        reading = server.current(path) if path else None
        if path is None or reading is None:
            return None
        found = hovering.hover(reading, path, *server.place(reading, path, params.position))
        if found is None:
            return None
        text, span = found
        content = lsp.MarkupContent(lsp.MarkupKind.Markdown, text)
        return lsp.Hover(content, server.range(reading, path, span))

    @server.feature(
        lsp.TEXT_DOCUMENT_COMPLETION, lsp.CompletionOptions(trigger_characters=[" ", ":", "/", "-"])
    )
    def completion(server: SpecServer, params: lsp.CompletionParams) -> lsp.CompletionList:
        path = path_of(params.text_document.uri)
        reading = server.current(path) if path else None
        if path is None or reading is None:
            return lsp.CompletionList(False, [])
        reading = server.last_sound(reading)
        span, found = completing.completion(reading, path, *server.place(reading, path, params.position))
        where = server.range(reading, path, span)
        return lsp.CompletionList(False, [_completion(one, where) for one in found])

    @server.feature(lsp.TEXT_DOCUMENT_DEFINITION)
    def definition(server: SpecServer, params: lsp.DefinitionParams) -> list[lsp.Location]:
        return _locations(server, params.text_document.uri, params.position, navigation.definition)

    @server.feature(lsp.TEXT_DOCUMENT_REFERENCES)
    def references(server: SpecServer, params: lsp.ReferenceParams) -> list[lsp.Location]:
        return _locations(server, params.text_document.uri, params.position, navigation.references)

    @server.feature(lsp.TEXT_DOCUMENT_DOCUMENT_SYMBOL)
    def symbols(server: SpecServer, params: lsp.DocumentSymbolParams) -> list[lsp.DocumentSymbol]:
        path = path_of(params.text_document.uri)
        reading = server.current(path) if path else None
        if path is None or reading is None:
            return []
        return [_symbol(server, reading, path, one) for one in navigation.symbols(reading, path)]

    @server.feature(
        lsp.TEXT_DOCUMENT_CODE_ACTION, lsp.CodeActionOptions(code_action_kinds=[lsp.CodeActionKind.QuickFix])
    )
    def actions(server: SpecServer, params: lsp.CodeActionParams) -> list[lsp.CodeAction]:
        path = path_of(params.text_document.uri)
        reading = server.current(path) if path else None
        if path is None or reading is None:
            return []
        lines = range(params.range.start.line, params.range.end.line + 1)
        return [
            _action(server, reading, notice, fix)
            for notice in server.found.get(reading.home, ())
            if notice.file == path
            and notice.span.line in lines
            and notice.text == reading.outline(path).lines
            for fix in fixing.fixes(reading, notice)
        ]

    return server


def _completion(one: completing.Proposal, where: lsp.Range) -> lsp.CompletionItem:
    return lsp.CompletionItem(
        label=one.text.strip().removesuffix(":"),
        kind=KINDS[one.sort],
        detail=one.detail or None,
        documentation=one.documentation or None,
        filter_text=one.text,
        text_edit=lsp.TextEdit(where, one.text),
    )


def _locations(
    server: SpecServer, uri: str, position: lsp.Position, ask: navigation.Question
) -> list[lsp.Location]:
    path = path_of(uri)
    reading = server.current(path) if path else None
    if path is None or reading is None:
        return []
    here = server.place(reading, path, position)
    found = ask(reading, path, *here) or ask(server.last_sound(reading), path, *here)
    return [server.location(reading, file, span) for file, span in found]


def _symbol(server: SpecServer, reading: Reading, path: Path, one: navigation.Symbol) -> lsp.DocumentSymbol:
    name = server.range(reading, path, one.span)
    last = reading.outline(path).lines[one.last_line]
    end = server.range(reading, path, Span(one.last_line, 0, len(last))).end
    kind = lsp.SymbolKind.Object if one.section == "components" else lsp.SymbolKind.Interface
    return lsp.DocumentSymbol(one.name, kind, lsp.Range(name.start, end), name, one.detail or None)


def _action(server: SpecServer, reading: Reading, notice: Notice, fix: fixing.Fix) -> lsp.CodeAction:
    edit = lsp.TextEdit(server.range(reading, fix.file, fix.span), fix.text)
    return lsp.CodeAction(
        title=fix.title,
        kind=lsp.CodeActionKind.QuickFix,
        diagnostics=[server.diagnostic(reading, notice)],
        edit=lsp.WorkspaceEdit(changes={uri_of(fix.file): [edit]}),
        is_preferred=fix.is_plain or None,
    )


def serve() -> None:
    """Answer on standard input and output until the editor says goodbye."""
    gc.enable()  # this process lives as long as the editor
    make_server().start_io()
