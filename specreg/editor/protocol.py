"""The questions of the Language Server Protocol (LSP 3.17), answered on standard input and output."""

from __future__ import annotations

import gc
from pathlib import Path

from lsprotocol import types as lsp

from specreg.editor import completion as completing
from specreg.editor import fixes as fixing
from specreg.editor import hover as hovering
from specreg.editor import navigation
from specreg.editor.notices import Notice
from specreg.editor.outline import Span
from specreg.editor.reading import Reading
from specreg.editor.server import SpecServer, path_of, uri_of

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
