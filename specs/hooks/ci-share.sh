#!/bin/sh
# An example of a CI job for many sites: each of several machines reads a share of them and leaves a table. `ci-join.sh` joins
# the tables. What is in .cache is used where a machine still has it from an earlier run; it may be missing.
# Usage: SHARE=2 SHARES=8 ci-share.sh [FOLDER], which writes shares/2.csv; it ends with 1 where a site has errors.
set -eu
share=${SHARE:?the number of this share, from 1}/${SHARES:?how many shares there are}
folder=${1:-specs}

mkdir -p shares
loopwright portfolio "$folder" --csv --shard "$share" --cache .cache >"shares/$SHARE.csv"
