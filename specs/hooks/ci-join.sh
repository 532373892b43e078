#!/bin/sh
# Joins the tables that `ci-share.sh` has left in shares, when all machines are done: one table, one line of headings.
# Usage: SHARES=8 ci-join.sh >sites.csv
set -eu
shares=${SHARES:?how many shares there are}

# Before anything is printed: a table that is missing, empty or of another form would leave sites out.
share=1
while [ "$share" -le "$shares" ]; do
    if ! head -n 1 "shares/$share.csv" | grep -qxF "$(head -n 1 shares/1.csv)" || ! [ -s "shares/$share.csv" ]; then
        echo "shares/$share.csv is not the table of a share" >&2
        exit 1
    fi
    share=$((share + 1))
done
head -n 1 shares/1.csv
share=1
while [ "$share" -le "$shares" ]; do
    tail -n +2 "shares/$share.csv"
    share=$((share + 1))
done
