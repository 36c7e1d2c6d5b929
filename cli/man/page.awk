# Completes the page of a task, in mdoc(7): @ABOUT@ becomes what the task's help says at
# its top, @OPTIONS@ its options, @VERSION@ and @DATE@ those of the program.
#
#     nearhand help TASK all | awk -v version=VERSION -v date=DATE -f page.awk - PAGE
#
# The help begins with the usage. A row is "  TAG   text", and lines that are indented
# further go on with it; other lines are paragraphs, up to the examples.

# Each sentence begins a line, as mdoc wants it, and no line is a request by accident.
function plain(text) {
    gsub(/\\/, "\\e", text)
    gsub(/--/, "\\-\\-", text)
    gsub(/\. +/, ".\n", text)
    return (text ~ /^[.']/ ? "\\&" : "") text "\n"
}

function end_list() {
    if (listed)
        part[to] = part[to] ".El\n"
    listed = 0
}

function begin_row(tag, text,    wanted) {
    wanted = tag ~ /^--/ ? "@OPTIONS@" : "@ABOUT@"
    if (to != wanted)
        end_list()
    to = wanted
    if (!listed)
        part[to] = part[to] ".Bl -tag -width Ds\n"
    listed = 1
    if (tag ~ /^--/) {
        sub(/ /, " Ar ", tag)
        sub(/^--/, "Fl \\-", tag)
    } else
        tag = "Sy \"" tag "\""
    part[to] = part[to] ".It " tag "\n" plain(text)
}

FILENAME != "-" {
    end_list()
    gsub(/@VERSION@/, version)
    gsub(/@DATE@/, date)
    if ($0 in part)
        printf "%s", part[$0]
    else
        print
    next
}

FNR == 1 {
    to = "@ABOUT@"
    next
}

/^(More|Examples?):/ {
    over = 1
}

over {
    next
}

/^  [^ ]/ {
    tag = $0
    sub(/^  /, "", tag)
    text = tag
    sub(/  +.*/, "", tag)
    text = substr(text, length(tag) + 1)
    sub(/^ +/, "", text)
    begin_row(tag, text)
    next
}

/^   / {
    sub(/^ +/, "")
    part[to] = part[to] plain($0)
    next
}

/^$/ {
    gap = part["@ABOUT@"] != "" && to == "@ABOUT@"
    next
}

{
    end_list()
    to = "@ABOUT@"
    part[to] = part[to] (gap ? ".Pp\n" : "") plain($0)
    gap = 0
}
