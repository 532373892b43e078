// Tokenises spec files with our grammar, and holds every token against a reading of the same line by a few plain rules.
// usage: node grammar.cjs GRAMMAR FILE…
const fs = require("fs");
const { Registry, INITIAL, parseRawGrammar } = require("vscode-textmate");
const oniguruma = require("vscode-oniguruma");

const [grammarFile, ...files] = process.argv.slice(2);

// What each kind of text is called by the scopes.
const kinds = {
  comment: /^comment\./, string: /^string\./, number: /^constant\.numeric/, unit: /^keyword\.other\.unit/,
  node: /^keyword\.other\.node/, property: /^variable\.parameter\.property/, flag: /^constant\.language/,
};
const kindOf = (scopes) => Object.keys(kinds).find((kind) => scopes.some((scope) => kinds[kind].test(scope)));

// The line by plain rules: the specs hold no block comment and no raw string.
function expected(line) {
  const pieces = [/(?<comment>\/\/.*)/, /(?<string>"(?:\\.|[^"\\])*")/, /\((?<unit>[A-Za-z0-9-]+)\)/, /(?<flag>#(?:true|false))/,
    /(?<property>[a-z][a-z0-9-]*)(?==)/, /(?<number>(?<=[\s=)])-?[0-9][0-9.]*)/, /(?<node>[a-z][a-z0-9-]*)/];
  const all = new RegExp(pieces.map((piece) => piece.source).join("|"), "dg");
  return [...line.matchAll(all)].flatMap((match) =>
    Object.entries(match.indices.groups).filter(([, at]) => at).map(([kind, [from, to]]) => ({ kind, from, to })));
}

(async () => {
  const wasm = fs.readFileSync(require.resolve("vscode-oniguruma/release/onig.wasm"));
  await oniguruma.loadWASM(wasm.buffer.slice(wasm.byteOffset, wasm.byteOffset + wasm.byteLength));
  const registry = new Registry({
    onigLib: Promise.resolve({
      createOnigScanner: (sources) => new oniguruma.OnigScanner(sources),
      createOnigString: (text) => new oniguruma.OnigString(text),
    }),
    loadGrammar: async () => parseRawGrammar(fs.readFileSync(grammarFile, "utf8"), "grammar.json"),
  });
  const grammar = await registry.loadGrammar("source.loopwright");
  const counts = {};
  let wrong = 0;
  for (const file of files) {
    let state = INITIAL;
    fs.readFileSync(file, "utf8").split("\n").forEach((line, number) => {
      const told = grammar.tokenizeLine(line, state);
      state = told.ruleStack;
      for (const { kind, from, to } of expected(line)) {
        const inside = told.tokens.filter((token) => token.startIndex < to && token.endIndex > from);
        const others = inside.filter((token) => kindOf(token.scopes) !== kind);
        // Where a node's token starts with the blanks before it, they have no scope of their own.
        if (others.length) {
          wrong += 1;
          if (wrong <= 20) console.error(`${file}:${number + 1}: "${line.slice(from, to)}" is no ${kind}: ${others[0].scopes}`);
        }
        counts[kind] = (counts[kind] ?? 0) + 1;
      }
    });
  }
  const missing = Object.keys(kinds).filter((kind) => !counts[kind]);
  if (wrong || missing.length) {
    console.error(`${wrong} tokens have another scope; never seen: ${missing}`);
    process.exit(1);
  }
  console.log(`${files.length} files: ${Object.entries(counts).map(([kind, n]) => `${n} ${kind}s`).join(", ")}, each with its scope`);
})();
