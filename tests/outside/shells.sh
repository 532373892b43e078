#!/usr/bin/env bash
# Completions read by the three shells, each asked what may follow `loopwright ch`, and the manual page by `man --warnings`.
# usage: shells.sh PROGRAM
set -euo pipefail
program=$(realpath "$1")
folder=$(mktemp -d)
trap 'rm -rf "$folder"' EXIT
ln -s "$program" "$folder/loopwright"
export PATH="$folder:$PATH"

fail() { echo "$*" >&2; exit 1; }

"$program" completions bash > "$folder/bash"
found=$(bash -c "source '$folder/bash'; COMP_WORDS=(loopwright ch); COMP_CWORD=1; _loopwright loopwright ch loopwright; echo \"\${COMPREPLY[*]}\"")
[ "$found" = check ] || fail "bash completes 'ch' to '$found'"

"$program" completions zsh > "$folder/_loopwright"
zsh -f -c "fpath=('$folder' \$fpath); autoload -Uz compinit; compinit -u -d '$folder/dump'; whence -w _loopwright" \
    | grep -q function || fail "zsh does not find the function"
zsh -n "$folder/_loopwright"

"$program" completions fish > "$folder/fish"
found=$(HOME="$folder" fish -c "source '$folder/fish'; complete -C 'loopwright ch'" | cut -f1)
[ "$found" = check ] || fail "fish completes 'ch' to '$found'"

"$program" man > "$folder/loopwright.1"
warned=$(LC_ALL=C.UTF-8 MANROFFSEQ='' MANWIDTH=80 man --warnings -E UTF-8 -l -Tutf8 -Z "$folder/loopwright.1" 2>&1 >/dev/null)
[ -z "$warned" ] || fail "man warns: $warned"
"$program" --help | awk '/^Commands:/ { on = 1; next } /^$/ { on = 0 } on && /^  [a-z]/ { print $1 }' | grep -v '^help$' |
    while read -r command; do
        grep -qi "loopwright $command\"" "$folder/loopwright.1" || fail "the manual page does not tell of $command"
    done
echo "completions of three shells and the manual page hold"
