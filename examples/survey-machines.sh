#!/usr/bin/env bash
# A survey over several machines at once, with GNU parallel over ssh: each job plays games of
# its own, and their parts are put together here. The games of a machine that is lost, or
# that fails, are played again on the others; what was played is kept, so that the same
# command goes on after anything that stopped it.
#
#     examples/survey-machines.sh HOSTS FOLDER GAMES [OPTION ...]
#
#     HOSTS     a file with a host of ssh in each line; `:` is this machine
#     FOLDER    keeps the parts, and which jobs are done (joblog)
#     GAMES     how many games in all
#     OPTION    of nearhand survey, as --list or --seed; another survey needs another FOLDER
#
# Each host needs the same version of nearhand, in its path or where NEARHAND says, and a
# list by its name, or a file that lies in the same place. SSH is the command that reaches
# the hosts, GAMES_EACH how many games are a job. Prints the survey as JSON.
set -euo pipefail

nearhand=${NEARHAND:-nearhand} each=${GAMES_EACH:-500}
if [ $# -lt 3 ]; then
    echo "usage: survey-machines.sh HOSTS FOLDER GAMES [OPTION ...]" >&2
    exit 2
fi
hosts=$1 folder=$2 games=$3
shift 3
mkdir -p "$folder"

# A merge needs to know the list, and takes all else from the parts.
list=() wanted=$(printf '%q ' "$games" "$each" "$@")
for ((i = 1; i <= $#; i++)); do
    case ${!i} in
    --list)
        value=$((i + 1))
        list=(--list "${!value}")
        ;;
    --list=*) list=("${!i}") ;;
    esac
done

# The jobs are those of the joblog only while they are the same.
if [ -e "$folder/survey" ] && [ "$(cat "$folder/survey")" != "$wanted" ]; then
    echo "survey-machines.sh: $folder holds another survey: $(cat "$folder/survey")" >&2
    exit 2
fi
echo "$wanted" >"$folder/survey"

command="$(printf '%q ' "$nearhand" survey --json "$@")--first {1} --games {2}"

# --resume-failed plays again what is not in the joblog, or failed there. Nothing is put
# together unless all jobs have ended well, so that what a lost machine sent in part is
# replaced by then.
jobs() {
    local first left
    for ((first = 1; first <= games; first += each)); do
        left=$((games - first + 1))
        echo "$first $((left < each ? left : each))"
    done
}
if ! jobs | parallel --ssh "${SSH:-ssh}" --sshloginfile "$hosts" --jobs 1 --colsep ' ' \
    --retries 3 --joblog "$folder/joblog" --resume-failed --results "$folder/jobs/{1}/" \
    "$command" >/dev/null; then
    echo "survey-machines.sh: not all games were played, see $folder/joblog;" \
        "the same command goes on" >&2
    exit 1
fi

"$nearhand" survey --json "${list[@]}" --merge "$folder"/jobs/*/stdout
