# Completion of nearhand in fish. The program is asked for its tasks, options,
# lists and patterns when they are wanted: what --help tells is what is offered.

# What a value can be, by the word that stands for it in --help.
function __nearhand_value --argument-names program word typed list
    switch $word
        case 'FILE|NAME'
            $program lists --names
            __fish_complete_suffix $typed .json
        case FILE
            __fish_complete_path $typed
        case PATTERN
            $program lists --names --list $list
        case WIND
            printf '%s\n' E S W N
        case FORMAT
            printf '%s\n' text json tsv
        case LEVEL
            printf '%s\n' beginner intermediate advanced
    end 2>/dev/null
end

# The rows of --help: the option, the word for its value, and its text.
function __nearhand_rows --argument-names program task
    printf '%s\t%s\t%s\n' --help '' 'tells how it is used'
    $program $task --help | string replace --regex --filter \
        '^  (--[a-z-]+) ?([A-Z|]*)(?: +(.*))?$' '$1\t$2\t$3'
end

function __nearhand
    set --local words (commandline --tokenize --cut-at-cursor --current-process)
    set --local typed (commandline --current-token --cut-at-cursor)
    set --local program $words[1]
    set --local task rank
    set --local list club
    set --local tasks ($program --help 2>/dev/null | sed -n '/^Tasks:/,/^$/s/^  \([a-z]*\)  *\(.*\)/\1\t\2/p')

    if test (count $words) -eq 1; and not string match --quiet -- '-*' $typed
        printf '%s\n' $tasks
        return
    end
    if string match --quiet -- "$words[2]"\t'*' $tasks
        set task $words[2]
    end
    if set --local at (contains --index -- --list $words)
        set list $words[(math $at + 1)]
    end
    set --local joined (string replace --filter -- --list= '' $words)
    and set list $joined[-1]

    set --local option $words[-1]
    set --local lead ''
    if string match --quiet --regex -- '^--[a-z-]+=' $typed
        set option (string replace --regex -- '=.*' '' $typed)
        set lead $option=
        set typed (string replace -- $lead '' $typed)
    end
    set --local value (__nearhand_rows $program $task | string replace --regex --filter -- "^$option\t([A-Z|]+)\t.*" '$1')
    if test -n "$value"
        __nearhand_value $program $value "$typed" $list | string replace --regex '^' -- "$lead"
    else if string match --quiet -- '-*' $typed
        __nearhand_rows $program $task | string replace --regex -- '\t[A-Z|]*\t' '\t'
        test (count $words) -gt 1; or printf '%s\t%s\n' --version 'tells the version'
    else
        __nearhand_value $program ($program $task --help | sed -n '1s/.*\[\(FILE[A-Z|]*\).*/\1/p') "$typed" $list
    end
end

complete --command nearhand --no-files --arguments '(__nearhand)'
