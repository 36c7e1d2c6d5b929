#!/usr/bin/env bash
# A file of hands as a table for a spreadsheet: a row for each of the nearest
# patterns of each hand, with columns set apart by tabs. Spreadsheets open it as
# text in UTF-8; set "tab" for what parts the columns if you are asked.
#
#     NEARHAND=build/nearhand examples/sheet.sh HANDS.txt TABLE.tsv [TOP]
set -euo pipefail

nearhand=${NEARHAND:-nearhand}
if [ $# -lt 2 ]; then
    echo "usage: sheet.sh HANDS.txt TABLE.tsv [TOP]" >&2
    exit 2
fi

# Written beside the table and then moved: a spreadsheet that has the old table
# open never reads half of a new one. Status 1 is a line that could not be read,
# which the table tells in its place.
part=$2.part
trap 'rm -f "$part"' EXIT
status=0
"$nearhand" rank --format tsv --top "${3:-3}" --file "$1" >"$part" || status=$?
if [ "$status" -le 1 ]; then
    mv "$part" "$2"
fi
exit "$status"
