#!/bin/sh
# An example of a CI job, for any runner that has git and loopwright: every file must be laid out, every site is checked and
# compiled, a register that is not committed as it should be is refused, and what the change does to each site is printed
# for the reviewer. Notes, and what a site accepts, are counted only.
# Usage: ci.sh BASE [FOLDER], BASE being the branch merged into.
set -eu
base=$1
folder=${2:-specs}

if ! git rev-parse --verify --quiet "$base^{commit}" >/dev/null; then
    echo "there is no revision $base here: fetch the branch that is merged into" >&2
    exit 2
fi

git -c core.quotePath=false diff --name-only --relative --no-renames --diff-filter=D "$base...HEAD" -- ":(glob)$folder/**/site.kdl" |
    while read -r site; do
        echo "$(dirname "$site"): removed"
    done
if [ -z "$(find "$folder" -name site.kdl)" ]; then
    echo "$folder: no sites"
    exit 0
fi
loopwright fmt --check "$folder"
loopwright compile "$folder" --out packet --frozen --format short --least warning

find "$folder" -name site.kdl | sort | while read -r site; do
    site=$(dirname "$site")
    if git cat-file -e "$base:./$site/site.kdl" 2>/dev/null; then
        loopwright diff "$base" HEAD "$site"
    else
        echo "$site: new"
    fi
done
