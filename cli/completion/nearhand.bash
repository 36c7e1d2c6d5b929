# Completion of nearhand in bash. The program is asked for its tasks, options,
# lists and patterns when they are wanted: what --help tells is what is offered.

# The options of a task, each with the word that stands for its value, if any.
_nearhand_options() { # PROGRAM TASK
    echo "--help"
    "$1" "$2" --help | sed -n 's/^  \(--[a-z-]*\) \{0,1\}\([A-Z|]*\)\( .*\)\{0,1\}$/\1 \2/p'
}

# What a value can be, by the word that stands for it in --help.
_nearhand_values() { # PROGRAM WORD TYPED LIST
    case $2 in
    'FILE|NAME')
        "$1" lists --names
        compgen -f -X '!*.json' -- "$3"
        compgen -d -- "$3"
        ;;
    FILE) compgen -f -- "$3" ;;
    PATTERN) "$1" lists --names --list "$4" ;;
    WIND) printf '%s\n' E S W N ;;
    FORMAT) printf '%s\n' text json tsv ;;
    LEVEL) printf '%s\n' beginner intermediate advanced ;;
    esac 2>/dev/null
}

# Offers the lines of standard input that begin with what was typed.
_nearhand_offer() { # TYPED
    local line
    while IFS= read -r line; do
        [[ $line != "$1"* ]] || COMPREPLY+=("$line")
    done
}

_nearhand() {
    local program=${COMP_WORDS[0]/#\~/$HOME} typed=$2 before=$3 task=rank list=club value i
    local tasks
    COMPREPLY=()
    tasks=$("$program" --help 2>/dev/null | sed -n '/^Tasks:/,/^$/s/^  \([a-z]*\)  .*/\1/p')

    # Bash makes a word of the = in --option=VALUE, and leaves quotes as typed.
    typed=${COMP_WORDS[COMP_CWORD]#[\"\']}
    typed=${typed//\\/}
    before=${COMP_WORDS[COMP_CWORD - 1]}
    if [[ $typed == = ]]; then
        typed=
    elif [[ $before == = ]]; then
        before=${COMP_WORDS[COMP_CWORD - 2]}
    fi

    if ((COMP_CWORD == 1)) && [[ $typed != -* ]]; then
        _nearhand_offer "$typed" <<<"$tasks"
        return
    fi
    if [[ $'\n'$tasks$'\n' == *$'\n'"${COMP_WORDS[1]}"$'\n'* ]]; then
        task=${COMP_WORDS[1]}
    fi
    for ((i = 1; i < COMP_CWORD; i++)); do
        if [[ ${COMP_WORDS[i]} == --list ]]; then
            list=${COMP_WORDS[i + 1]}
            [[ $list != = ]] || list=${COMP_WORDS[i + 2]}
        fi
    done

    value=$(_nearhand_options "$program" "$task" | sed -n "s/^$before //p")
    if [[ $before == --?* && -n $value ]]; then
        : # the value of the option before
    elif [[ $typed == -* ]]; then
        _nearhand_offer "$typed" < <(
            _nearhand_options "$program" "$task" | cut -d ' ' -f 1
            ((COMP_CWORD > 1)) || echo "--version"
        )
        return
    else # a word behind the options, as the first line of --help has it
        value=$("$program" "$task" --help | sed -n '1s/.*\[\(FILE[A-Z|]*\).*/\1/p')
    fi
    compopt -o filenames 2>/dev/null # which has names with spaces quoted
    _nearhand_offer "$typed" < <(_nearhand_values "$program" "$value" "$typed" "$list")
}

complete -F _nearhand nearhand
