#!/usr/bin/env bash
# How often each pattern is the nearest of a dealt hand: deals are ranked as
# they come, and jq counts. A seed makes it the same count everywhere.
#
#     NEARHAND=build/nearhand examples/deals.sh [HANDS [SEED [LIST]]]
set -euo pipefail

nearhand=${NEARHAND:-nearhand}
hands=${1:-1000} seed=${2:-1} list=${3:-club}

# The first target is the best of the nearest ones. Objects are counted as they
# are read, so that memory does not grow with the number of hands.
"$nearhand" deal --list "$list" --hands "$hands" --seed "$seed" |
    "$nearhand" rank --list "$list" --json --top 1 |
    jq -nr '
        reduce inputs as $answer ({}; .[$answer.targets[0].pattern] += 1)
        | to_entries | sort_by(-.value, .key)[] | "\(.value)\t\(.key)"'
