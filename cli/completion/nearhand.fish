# Completion of nearhand in fish. The program itself says what to offer.

function __nearhand
    set --local words (commandline --tokenize --cut-at-cursor --current-process)
    set --local typed (commandline --current-token --cut-at-cursor)
    set --local whole (commandline --tokenize --current-process)
    set --local behind
    set --local next (math (count $words) + 2)
    test (count $whole) -lt $next; or set behind $whole[$next..]
    set --local program (string replace --regex '^~' -- $HOME $words[1])
    set --erase words[1]

    # In --option=VALUE the value is a word of its own.
    set --local lead ''
    if string match --quiet --regex -- '^--[a-z-]+=' $typed
        set lead (string replace --regex -- '=.*' '=' $typed)
        set words $words (string trim --right --chars '=' -- $lead)
        set typed (string sub --start (math (string length -- $lead) + 1) -- $typed)
    end
    set typed (string unescape -- "$typed"; or echo -- "$typed")

    for line in ($program --offer (count $words) $words "$typed" $behind 2>/dev/null)
        switch $line
            case \t'LIST'
                __fish_complete_suffix "$typed" .json | string replace --regex '^' -- "$lead"
            case \t'FILE'
                __fish_complete_path "$typed" | string replace --regex '^' -- "$lead"
            case '*'
                echo -- $lead$line
        end
    end
end

complete --command nearhand --no-files --arguments '(__nearhand)'
