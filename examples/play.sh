#!/usr/bin/env bash
# What to do next after the passes: says so if the hand is complete; shows which tile to
# discard if it has drawn one, and else which discards of the others to claim.
#
#     NEARHAND=build/nearhand examples/play.sh LIST "SETS" "HAND" [SEEN]
#
# SETS are your own on the table, "" for none; HAND is what you hold beside them; SEEN are
# the tiles that are gone.
set -euo pipefail

nearhand=${NEARHAND:-nearhand}
if [ $# -lt 3 ]; then
    echo "usage: play.sh LIST SETS HAND [SEEN]" >&2
    exit 2
fi
known=(--list "$1" --exposed "$2")

# One object a line: its keys are in cli/schema/check.schema.json.
answer=$("$nearhand" check "${known[@]}" --json "$3")
number() {
    sed "s/.*\"$1\":\([0-9]*\).*/\1/" <<<"$answer"
}

if [[ $answer == *'"complete":true'* ]]; then
    exec "$nearhand" check "${known[@]}" "$3"
elif [ "$(number tiles)" -lt "$(number whole)" ]; then
    exec "$nearhand" claim "${known[@]}" --seen "${4:-}" "$3"
else
    exec "$nearhand" discard "${known[@]}" --seen "${4:-}" --top 3 "$3"
fi
