#!/usr/bin/env bash
# Ranks hands on several machines at once, with GNU parallel over ssh: blocks of
# lines go out, and answers come back in the order of the lines, byte for byte
# those of one process. The work of a machine that is lost, or that fails, is
# done again on the others.
#
#     examples/many-machines.sh HOST,HOST,... [OPTION ...] <HANDS.txt >ANSWERS.jsonl
#
# Hosts are those of ssh; `:` is this machine. Each needs the same version of
# nearhand, in its path or where NEARHAND says, and options may name only what
# every host has: a list by its name, or a file that lies in the same place. SSH
# is the command that reaches the hosts, LINES_EACH how many lines are a block.
set -euo pipefail

nearhand=${NEARHAND:-nearhand} lines=${LINES_EACH:-10000}
if [ $# -lt 1 ]; then
    echo "usage: many-machines.sh HOST,HOST,... [OPTION ...] <HANDS.txt" >&2
    exit 2
fi
hosts=$1
shift
command=$(printf '%q ' "$nearhand" rank --json "$@")

# Status 1 only says that some line could not be read, which its answer tells;
# it must not count as a failure, or the block would be tried again. Each host
# has two blocks, so that one is on its way while the other is ranked.
#
# An unreadable line is told with its number, which a host counts in its block:
# the tag is the number of the block, and what comes before is added here.
parallel --ssh "${SSH:-ssh}" --sshlogin "$hosts" --jobs 2 --pipe -N "$lines" \
    --keep-order --retries 3 --tagstring '{#}' "$command || test \$? -eq 1" |
    awk -F '\t' -v lines="$lines" '{
        before = ($1 - 1) * lines
        $0 = substr($0, length($1) + 2)
        if (match($0, /^[{]"format":1,"line":[0-9]+/))
            $0 = "{\"format\":1,\"line\":" substr($0, 20, RLENGTH - 19) + before \
                 substr($0, RLENGTH + 1)
        print
    }'
