# Completion of nearhand in bash. The program itself says what to offer.

# A word without its quotes and backslashes, in $plain.
_nearhand_unquote() { # WORD
    local word=$1 quote= character i
    plain=
    for ((i = 0; i < ${#word}; i++)); do
        character=${word:i:1}
        if [[ $character == \\ && $quote != \' ]]; then
            ((++i))
            plain+=${word:i:1}
        elif [[ $character == [\"\'] && ($quote == "" || $quote == "$character") ]]; then
            [[ $quote == "" ]] && quote=$character || quote=
        else
            plain+=$character
        fi
    done
}

_nearhand() {
    local program=${COMP_WORDS[0]/#\~/$HOME} place=0 words=() plain word line i
    COMPREPLY=()
    for ((i = 1; i < ${#COMP_WORDS[@]}; i++)); do
        word=${COMP_WORDS[i]}
        # Bash makes a word of the = in --option=VALUE.
        if [[ $word == = && ${COMP_WORDS[i - 1]} == --* ]]; then
            ((i == COMP_CWORD)) || continue
            word=
        fi
        _nearhand_unquote "$word"
        words+=("$plain")
        ((i != COMP_CWORD)) || place=$((${#words[@]} - 1))
    done
    word=${words[place]}

    while IFS= read -r line; do
        case $line in
        $'\tLIST')
            mapfile -t -O ${#COMPREPLY[@]} COMPREPLY < <(
                compgen -f -X '!*.json' -- "$word"
                compgen -d -- "$word"
            )
            ;;
        $'\tFILE') mapfile -t -O ${#COMPREPLY[@]} COMPREPLY < <(compgen -f -- "$word") ;;
        *) COMPREPLY+=("${line%%$'\t'*}") ;;
        esac
    done < <("$program" --offer "$place" "${words[@]}" 2>/dev/null)

    # This has bash quote what needs it; options need none.
    [[ $word == -* ]] || compopt -o filenames 2>/dev/null
}

complete -F _nearhand nearhand
