#!/usr/bin/env bash
# The highlighting grammar, by the tokeniser that editors have: npm's vscode-textmate with vscode-oniguruma.
# usage: grammar.sh PROGRAM
set -euo pipefail
program=$(realpath "$1")
root=$(cd "$(dirname "$0")/../.." && pwd)
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
cd "$folder"
npm install --silent --no-fund --no-audit vscode-textmate@9 vscode-oniguruma@2 > /dev/null
"$program" reference --grammar > grammar.json
cp "$root/tests/outside/grammar.cjs" .
node grammar.cjs grammar.json "$root"/specs/alder-mill/*.kdl "$root"/specs/parts/*.kdl
