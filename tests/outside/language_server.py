"""The language server, spoken to by a client that others wrote (pytest-lsp on pygls), over its standard streams.

    python3 tests/outside/language_server.py target/debug/loopwright

A house with names of many kinds of characters is written, broken, asked about and mended, with columns in UTF-8 and in UTF-16; then
the client is rude. Neovim opens the same house and must show the same finding, and make the change that one brings.
"""

import asyncio
import pathlib
import shutil
import subprocess
import sys
import tempfile

from lsprotocol import types
from pygls.exceptions import JsonRpcException
from pytest_lsp import make_test_lsp_client

ROOT = pathlib.Path(__file__).parents[2]
PLACES = 'level "ground" {\n    room "hall" title="Flur 🚪 é" { /* é🚪 */ door "front-door" title="Haustür"; }\n}\n'
SITE = """site "mill" title="Mühle 🚪"
include "../parts/example.kdl"
include "places.kdl"
panel "main" title="Zentrale é" part="control-a" room="hall" {
    battery capacity=(Ah)7
}
/* é🚪 */ zone 1 "Haustür 🚪" type="entry-exit" area="hous" {
    loop "end-of-line" board="main" input=1 {
        run "pair" length=(ft)38 room="hall" {
            contact "reed" on="front-door"
            resistor "2k2"
        }
    }
}
"""


def units(text, encoding):
    return len(text.encode("utf-8")) if encoding == "utf-8" else len(text.encode("utf-16-le")) // 2


def position(text, words, on, encoding):
    before = text[: text.index(words) + on]
    line = before.rpartition("\n")[2]
    return types.Position(line=before.count("\n"), character=units(line, encoding))


class Talk:
    """A conversation with a server of its own."""

    def __init__(self, program, folder, encoding):
        self.program, self.folder, self.encoding = program, folder, encoding
        self.client = make_test_lsp_client()
        self.versions = {}

    def uri(self, name):
        return (self.folder / name).resolve().as_uri()

    async def __aenter__(self):
        await self.client.start_io(self.program, "lsp")
        general = types.GeneralClientCapabilities(position_encodings=[types.PositionEncodingKind(self.encoding)])
        params = types.InitializeParams(capabilities=types.ClientCapabilities(general=general), root_uri=self.folder.as_uri())
        answer = await self.client.initialize_session(params)
        assert answer.capabilities.position_encoding == self.encoding, answer.capabilities
        return self

    async def __aexit__(self, *_):
        await self.client.shutdown_session()
        await self.client.stop()

    async def findings(self, name):
        """The next findings that are told of a file."""
        while True:
            await asyncio.wait_for(self.client.wait_for_notification(types.TEXT_DOCUMENT_PUBLISH_DIAGNOSTICS), 60)
            if self.uri(name) in self.client.diagnostics:
                return self.client.diagnostics.pop(self.uri(name))

    async def open(self, name, text):
        self.versions[name] = 1
        item = types.TextDocumentItem(uri=self.uri(name), language_id="kdl", version=1, text=text)
        self.client.text_document_did_open(types.DidOpenTextDocumentParams(item))
        return await self.findings(name)

    def change(self, name, *changes):
        self.versions[name] += 1
        of = types.VersionedTextDocumentIdentifier(uri=self.uri(name), version=self.versions[name])
        self.client.text_document_did_change(types.DidChangeTextDocumentParams(of, list(changes)))

    def at(self, name, text, words, on=2):
        return dict(text_document=types.TextDocumentIdentifier(self.uri(name)), position=position(text, words, on, self.encoding))


def replaced(text, words, by, encoding):
    start, end = position(text, words, 0, encoding), position(text, words, len(words), encoding)
    return types.TextDocumentContentChangePartial(range=types.Range(start, end), text=by)


def only(found, code):
    found = [one for one in found if one.code == code]
    assert len(found) == 1, found
    return found[0]


async def session(program, folder, encoding):
    async with Talk(program, folder, encoding) as talk:
        found = only(await talk.open("site.kdl", SITE), "unknown-name")
        assert found.range.start == position(SITE, '"hous"', 0, encoding), found
        assert found.range.end == position(SITE, '"hous"', 6, encoding), found
        assert "Help: " in found.message, found
        # Mended by a change of a range, found to be clean, without anything saved.
        talk.change("site.kdl", replaced(SITE, ' area="hous"', "", encoding))
        text = SITE.replace(' area="hous"', "")
        assert not [one for one in await talk.findings("site.kdl") if one.severity == types.DiagnosticSeverity.Error]

        # A unit behind its number brings the change that says what was meant; made, nothing is found.
        slip = text.replace("(ft)38", "38ft")
        talk.change("site.kdl", types.TextDocumentContentChangeWholeDocument(slip))
        found = only(await talk.findings("site.kdl"), "number-with-glued-unit")
        context = types.CodeActionContext(diagnostics=[found], only=[types.CodeActionKind.QuickFix])
        of = types.TextDocumentIdentifier(talk.uri("site.kdl"))
        [action] = await talk.client.text_document_code_action_async(types.CodeActionParams(of, found.range, context))
        [edit] = action.edit.changes[talk.uri("site.kdl")]
        assert edit.new_text == "(ft)38" and list(action.diagnostics) == [found], action
        start, end = position(slip, "38ft", 0, encoding), position(slip, "38ft", 4, encoding)
        assert edit.range == types.Range(start, end), action
        talk.change("site.kdl", types.TextDocumentContentChangePartial(range=edit.range, text=edit.new_text))
        assert not [one for one in await talk.findings("site.kdl") if one.severity == types.DiagnosticSeverity.Error]

        hover = await talk.client.text_document_hover_async(types.HoverParams(**talk.at("site.kdl", text, "zone 1")))
        assert "at rest: " in hover.contents.value and "Ω" in hover.contents.value, hover
        there = await talk.client.text_document_definition_async(types.DefinitionParams(**talk.at("site.kdl", text, '"front-door"')))
        assert there.uri == talk.uri("places.kdl") and there.range.start == position(PLACES, '"front-door"', 0, encoding), there
        context = types.ReferenceContext(include_declaration=True)
        uses = await talk.client.text_document_references_async(types.ReferenceParams(context=context, **talk.at("site.kdl", text, '"hall"')))
        assert len(uses) == 3, uses
        offers = await talk.client.text_document_completion_async(types.CompletionParams(**talk.at("site.kdl", text, '"front-door"', 1)))
        assert [offer.label for offer in offers] == ["front-door"], offers
        edit = await talk.client.text_document_rename_async(types.RenameParams(new_name="street-door", **talk.at("site.kdl", text, '"front-door"')))
        assert sorted(edit.changes) == [talk.uri("places.kdl"), talk.uri("site.kdl")], edit
        of = types.TextDocumentIdentifier(talk.uri("site.kdl"))
        outline = await talk.client.text_document_document_symbol_async(types.DocumentSymbolParams(of))
        assert [symbol.name for symbol in outline] == ["site mill", "panel main", "zone 1 Haustür 🚪"], outline
        assert await talk.client.text_document_folding_range_async(types.FoldingRangeParams(of))
        hints = await talk.client.text_document_inlay_hint_async(types.InlayHintParams(of, types.Range(types.Position(0, 0), types.Position(99, 0))))
        assert any(hint.label.startswith("Z1, ") for hint in hints), hints
        tokens = await talk.client.text_document_semantic_tokens_full_async(types.SemanticTokensParams(of))
        assert tokens.data and len(tokens.data) % 5 == 0

        # Out of range, and many at once: the last state is what counts.
        far = types.Range(types.Position(7000, 3), types.Position(8000, 9))
        talk.change("site.kdl", types.TextDocumentContentChangePartial(range=far, text="// é🚪\n"))
        for step in range(10_000):
            at = types.Position(0, 0)
            end = types.Position(0, step % 2)
            talk.change("site.kdl", types.TextDocumentContentChangePartial(range=types.Range(at, end), text=" " * (1 - step % 2)))
        talk.change("site.kdl", types.TextDocumentContentChangeWholeDocument(SITE))
        while not [one for one in await talk.findings("site.kdl") if one.code == "unknown-name"]:
            pass
        # A file that nobody has opened, and a question that nobody knows.
        of = types.TextDocumentIdentifier(talk.uri("none.kdl"))
        assert await talk.client.text_document_hover_async(types.HoverParams(of, types.Position(1, 1))) is None
        try:
            await talk.client.protocol.send_request_async("loopwright/unheardOf", {})
            raise AssertionError("an unknown request was answered")
        except JsonRpcException as refused:
            assert refused.code == -32601, refused


def rude(program):
    """Asks before the beginning, sends what is no message, and leaves: the answer is a refusal, and the program ends."""
    def framed(text):
        return f"Content-Length: {len(text.encode())}\r\n\r\n{text}".encode()

    asked = framed('{"jsonrpc":"2.0","id":1,"method":"textDocument/hover","params":{}}')
    said = asked + framed("no message é") + asked + framed('{"jsonrpc":"2.0","method":"exit"}')
    run = subprocess.run([program, "lsp"], input=said, capture_output=True, timeout=60)
    assert run.stdout.count(b"-32002") == 2, run.stdout
    assert run.returncode == 1 and b"a message that is none" in run.stderr, run


NEOVIM = """
local id = vim.lsp.start_client({ name = "loopwright", cmd = { "PROGRAM", "lsp" }, root_dir = vim.fn.getcwd() })
vim.lsp.buf_attach_client(0, id)
vim.wait(60000, function() return #vim.diagnostic.get(0) > 0 end, 50)
for _, found in ipairs(vim.diagnostic.get(0)) do
  io.stdout:write(found.lnum .. ":" .. found.col .. ": " .. found.source .. ": " .. vim.fn.split(found.message, "\\n")[1] .. "\\n")
end
local function text() return table.concat(vim.api.nvim_buf_get_lines(0, 0, -1, false), "\\n") end
vim.cmd("%s/(ft)38/38ft/")
vim.fn.search("38ft")
vim.wait(60000, function()
  for _, found in ipairs(vim.diagnostic.get(0)) do if found.message:find("38ft is no number") then return true end end
end, 50)
vim.ui.select = function(offers, _, choose) choose(offers[1], 1) end
vim.lsp.buf.code_action({ context = { only = { "quickfix" } } })
vim.wait(60000, function() return text():find("%(ft%)38") end, 50)
io.stdout:write(text() .. "\\n")
vim.cmd("qall!")
"""


def neovim(program, folder):
    """The finding as an editor shows it, its columns in bytes; and the change that another one brings, made by the editor."""
    script = folder / "attach.lua"
    script.write_text(NEOVIM.replace("PROGRAM", program))
    command = ["nvim", "--headless", "--clean", "site.kdl", "-c", f"luafile {script}"]
    run = subprocess.run(command, cwd=folder, capture_output=True, text=True, timeout=120)
    script.unlink()
    at = position(SITE, '"hous"', 0, "utf-8")
    assert f"{at.line}:{at.character}: loopwright: there is no area `hous`" in run.stdout, run
    assert run.stdout.endswith(SITE) and "38ft" not in run.stdout, run


def main():
    program = str(pathlib.Path(sys.argv[1]).resolve())
    with tempfile.TemporaryDirectory() as place:
        place = pathlib.Path(place).resolve()
        folder = place / "Mühle 🚪"
        folder.mkdir()
        (place / "parts").mkdir()
        shutil.copy(ROOT / "tests/pages/example.kdl", place / "parts")
        (folder / "places.kdl").write_text(PLACES)
        (folder / "site.kdl").write_text(SITE)
        for encoding in ["utf-8", "utf-16"]:
            asyncio.run(session(program, folder, encoding))
        rude(program)
        neovim(program, folder)
    print("a session in UTF-8 and one in UTF-16, a rude client, and Neovim agree with the server")


main()
