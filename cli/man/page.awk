# Writes a manual page of the program or of a task, in mdoc(7), out of what --help
# tells and of a file with further sections.
#
#     nearhand TASK --help |
#         awk -v name=nearhand-TASK -v summary=TEXT -v version=VERSION -v date=DATE \
#             -v exits=EXIT_STATUS_FILE -v more=SECTIONS_FILE -f page.awk
#
# In --help a row is "  TAG   text", and what is indented below goes on with it;
# "Word:" alone in a line heads what comes below; all else is paragraphs. Only
# what POSIX has of awk is used.

# Lines of text: none is a request by accident, options keep their dashes, and
# each sentence begins a line, as mdoc wants it.
function plain(text) {
    gsub(/\\/, "\\e", text)
    gsub(/--/, "\\-\\-", text)
    gsub(/\. +/, ".\n", text)
    gsub(/\n\./, "\n\\\\\\&.", text)
    sub(/^[.']/, "\\\\\\&&", text)
    return text
}

# The words behind a program's name, as .Op and .Ar have them.
function arguments(text,    written) {
    written = ""
    while (match(text, /\[[^]]*\]/)) {
        if (RSTART > 1)
            written = written bare(substr(text, 1, RSTART - 1))
        written = written ".Op Ar " substr(text, RSTART + 1, RLENGTH - 2) "\n"
        text = substr(text, RSTART + RLENGTH)
    }
    return written bare(text)
}

function bare(text) {
    gsub(/^ +| +$/, "", text)
    return text == "" ? "" : ".Ar " text "\n"
}

function usage(text) {
    if (text !~ /^nearhand /)
        return ""
    sub(/   +.*/, "", text)
    sub(/^nearhand /, "", text)
    if (match(text, /^[a-z]+/))
        return ".Nm nearhand Cm " substr(text, 1, RLENGTH) "\n" arguments(substr(text, RLENGTH + 1))
    return ".Nm nearhand\n" arguments(text)
}

# A command as an example, with its quotes.
function example(text) {
    gsub(/\\/, "\\e", text)
    gsub(/"/, "\\(dq", text)
    gsub(/--/, "\\-\\-", text)
    gsub(/^ +/, "", text)
    body["EXAMPLES"] = body["EXAMPLES"] ".Dl " text "\n"
}

function close_list() {
    if (in_list)
        body[part] = body[part] ".El\n"
    in_list = 0
}

function tag(text,    words) {
    if (text ~ /^--/) {
        sub(/^--/, "Fl \\-", text)
        sub(/ /, " Ar ", text)
        return text
    }
    if (part == "TASKS")
        return "Xr nearhand-" text " 1"
    return "Sy \"" text "\""
}

function row(line,    at, head, text) {
    head = line
    text = ""
    sub(/^  /, "", head)
    at = match(head, /  +/)
    if (at) {
        text = substr(head, at + RLENGTH)
        head = substr(head, 1, at - 1)
    }
    if (head ~ /^--/ && part == "DESCRIPTION")
        part = "OPTIONS"
    if (!in_list)
        body[part] = body[part] ".Bl -tag -width Ds\n"
    in_list = 1
    body[part] = body[part] ".It " tag(head) "\n" (text == "" ? "" : plain(text) "\n")
}

BEGIN {
    part = "DESCRIPTION"
}

NR == 1 {
    synopsis = usage($0)
    next
}

NR == 3 && /^  nearhand / {
    in_usage = 1
}

in_usage && /^  nearhand / {
    sub(/^  /, "")
    synopsis = synopsis usage($0)
    next
}

/^$/ {
    in_usage = 0
    if (NR > 2) {
        close_list()
        if (part == "OPTIONS" || part == "TASKS" || part == "EXAMPLES")
            part = "DESCRIPTION"
        gap = body[part] != ""
    }
    next
}

/^[A-Z][a-z]*:$/ {
    part = toupper(substr($0, 1, length($0) - 1))
    next
}

/^Examples?: / {
    sub(/^Examples?: /, "")
    example($0)
    next
}

part == "EXAMPLES" && /^  / {
    example($0)
    next
}

/^  [^ ]/ {
    row($0)
    next
}

/^   / {
    sub(/^ +/, "")
    body[part] = body[part] plain($0) "\n"
    next
}

{
    if (gap && !in_list)
        body[part] = body[part] ".Pp\n"
    gap = 0
    body[part] = body[part] plain($0) "\n"
}

function section(title, text) {
    if (text != "")
        printf ".Sh %s\n%s", title, text
}

END {
    close_list()
    printf ".\\\" Made of nearhand --help.\n.Dd %s\n.Dt %s 1\n.Os nearhand %s\n", \
        date, toupper(name), version
    printf ".Sh NAME\n.Nm %s\n.Nd %s\n", name, summary
    section("SYNOPSIS", synopsis)
    section("DESCRIPTION", body["DESCRIPTION"])
    section("TASKS", body["TASKS"])
    section("OPTIONS", body["OPTIONS"])
    examples = ""
    while ((getline line < more) > 0) {
        if (line == ".Sh EXAMPLES")
            in_examples = 1
        else if (in_examples)
            examples = examples line "\n"
        else if (line !~ /^\.\\"/)
            print line
    }
    while ((getline line < exits) > 0)
        print line
    section("EXAMPLES", body["EXAMPLES"] examples)
    printf ".Sh SEE ALSO\n"
    if (name != "nearhand")
        printf ".Xr nearhand 1 ,\n"
    printf ".Xr nearhand 3 ,\n.Xr nearhand-list 5\n"
}
