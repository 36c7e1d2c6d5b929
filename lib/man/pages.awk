# Writes the manual pages of the interface out of the comments of nearhand.h, in
# mdoc(7): nearhand(3) from the comment at its top, a page for each of its
# sections, and for each function a page that only refers to that.
#
#     awk -v out=FOLDER -v version=VERSION -v date=DATE -f pages.awk nearhand.h
#
# It relies on how the header is laid out: a section is headed /* ---- name --- */,
# an entry is a comment and the declarations right below, and a blank line stands
# between entries. Only what POSIX has of awk is used.

# ------------------------------------------------------------------- text

# Lines of text: none is a request by accident, and each sentence begins a line,
# as mdoc wants it.
function plain(text) {
    gsub(/\\/, "\\e", text)
    gsub(/`/, "", text)
    gsub(/\. +/, ".\n", text)
    gsub(/\n\./, "\n\\\\\\&.", text)
    gsub(/\n'/, "\n\\\\\\&'", text)
    sub(/^[.']/, "\\\\\\&&", text)
    return text
}

# A line that is shown as it stands.
function literal(text) {
    gsub(/\\/, "\\e", text)
    sub(/^[.']/, "\\\\\\&&", text)
    return text
}

# The text of a comment: lines that are indented are shown as they stand, the
# others are paragraphs.
function prose(comment,    count, line, i, written, mode, now) {
    count = split(comment, line, "\n")
    written = mode = ""
    for (i = 1; i <= count + 1; i++) {
        now = i > count ? "end" : line[i] ~ /^ / ? "shown" : line[i] == "" ? "gap" : "text"
        if (now == "gap" && mode == "shown" && line[i + 1] ~ /^ /)
            now = "shown"
        if (mode == "shown" && now != "shown")
            written = written ".Ed\n.Pp\n"
        if (now == "shown")
            written = written (mode == "shown" ? "" : ".Bd -literal -offset indent\n") \
                literal(substr(line[i], 3)) "\n"
        else if (now == "gap" && mode == "text")
            written = written ".Pp\n"
        else if (now == "text")
            written = written plain(line[i]) "\n"
        mode = now
    }
    return written
}

# A paragraph begins where text follows text, and nowhere else.
function tidy(text) {
    while (gsub(/\.Pp\n\.Pp\n/, ".Pp\n", text))
        ;
    gsub(/\.Pp\n\.Bd/, ".Bd", text)
    gsub(/\.Pp\n\.Bl/, ".Bl", text)
    gsub(/\.Pp\n\.El/, ".El", text)
    sub(/^\.Pp\n/, "", text)
    sub(/\.Pp\n$/, "", text)
    return text
}

# ------------------------------------------------------------------- pages

function begin_page(name, title, what) {
    page = out "/" name ".3"
    printf ".\\\" Made of nearhand.h.\n.Dd %s\n.Dt %s 3\n.Os nearhand %s\n", \
        date, title, version > page
    printf ".Sh NAME\n%s.Nd %s\n", what, (name == "nearhand" ? \
        "how far a mahjong hand is from every pattern of a printed list" : \
        group " of the library nearhand") > page
    printf ".Sh LIBRARY\nnearhand, linked with\n.Fl lnearhand\n" > page
    printf ".Sh SYNOPSIS\n.In nearhand.h\n" > page
}

function end_page(    i, line) {
    printf ".Sh SEE ALSO\n" > page
    line = "nearhand 1"
    if (page != out "/nearhand.3")
        line = line " ,\n.Xr nearhand 3"
    printf ".Xr %s ,\n.Xr nearhand-list 5\n", line > page
    close(page)
}

function title_of(name) {
    name = toupper(name)
    gsub(/[^A-Z]/, "-", name)
    return "NEARHAND-" name
}

function file_of(name) {
    gsub(/[^a-z]/, "-", name)
    return "nearhand-" name
}

# The page of the section that has ended.
function write_group(    i, what) {
    if (group == "")
        return
    what = ""
    for (i = 1; i <= functions; i++) {
        what = what ".Nm " function_name[i] (i < functions ? " ,\n" : "\n")
        printf ".so man3/%s.3\n", file_of(group) > (out "/" function_name[i] ".3")
        close(out "/" function_name[i] ".3")
    }
    if (what == "")
        what = ".Nm " file_of(group) "\n"
    begin_page(file_of(group), title_of(group), what)
    printf "%s", synopsis > page
    printf ".Sh DESCRIPTION\n%s", tidy(description) > page
    end_page()
    overview = overview ".It " group "\n.Xr " file_of(group) " 3\n"
    functions = 0
    synopsis = description = group = ""
}

# ----------------------------------------------------------------- entries

# A function as the SYNOPSIS has it: type, name, parameters.
function declare(code,    type, name, parameters, count, each, i) {
    sub(/^NH_API /, "", code)
    match(code, /nh_[a-z0-9_]+\(/)
    type = substr(code, 1, RSTART - 1)
    name = substr(code, RSTART, RLENGTH - 1)
    parameters = substr(code, RSTART + RLENGTH)
    sub(/\);.*$/, "", parameters)
    sub(/ $/, "", type)
    function_name[++functions] = name
    synopsis = synopsis ".Ft " type "\n.Fo " name "\n"
    count = split(parameters, each, /, */)
    for (i = 1; i <= count; i++)
        synopsis = synopsis ".Fa \"" each[i] "\"\n"
    synopsis = synopsis ".Fc\n"
    return name
}

# What a line declares: the name of a member, an enumerator or a macro.
function declared(code) {
    if (code ~ /^#define /) {
        sub(/^#define /, "", code)
        sub(/[ (].*/, "", code)
        return code
    }
    sub(/[;,].*$/, "", code)
    sub(/ = .*/, "", code)
    sub(/\[.*/, "", code)
    sub(/.*[ *]/, "", code)
    return code
}

# An entry with functions: their names head its text.
function function_entry(comment, code,    count, line, i, whole, heads, notes, name, note) {
    count = split(code, line, "\n")
    whole = heads = notes = ""
    for (i = 1; i <= count; i++) {
        note = ""
        if (match(line[i], /\/\* .* \*\//)) {
            note = substr(line[i], RSTART + 3, RLENGTH - 6)
            line[i] = substr(line[i], 1, RSTART - 1)
        }
        gsub(/^ +| +$/, "", line[i])
        whole = whole (whole == "" ? "" : " ") line[i]
        if (whole ~ /;$/) {
            name = declare(whole)
            heads = heads (heads == "" ? ".It" : " ,") " Fn " name
            if (note != "")
                notes = notes ".Pp\n.Fn " name " :\n" plain(note) "\n"
            whole = ""
        }
    }
    if (comment == "")
        sub(/^\.Pp\n/, "", notes)
    description = description ".Bl -tag -width Ds\n" heads "\n" prose(comment) notes ".El\n"
}

# An entry with types or constants: the text, the code, and what the code says
# beside its lines.
function type_entry(comment, code,    count, line, i, shown, notes, name, note) {
    count = split(code, line, "\n")
    shown = notes = ""
    for (i = 1; i <= count; i++) {
        if (match(line[i], / *\/\* .*$/)) {
            note = substr(line[i], RSTART, RLENGTH)
            line[i] = substr(line[i], 1, RSTART - 1)
            while (note !~ /\*\//)
                note = note " " line[++i] # the rest of it stands alone
            gsub(/ *\/\* *| *\*\/.*/, "", note)
            gsub(/  +/, " ", note)
            name = declared(line[i] ~ /\*\// && line[i] !~ /\/\*/ ? line[last + 1] : line[i])
            notes = notes ".It " name "\n" plain(note) "\n"
            shown = shown literal(line[last + 1]) "\n"
            last = i
            continue
        }
        sub(/ +\\$/, " \\", line[i])
        shown = shown literal(line[i]) "\n"
        last = i
    }
    last = 0
    description = description ".Pp\n" prose(comment) ".Bd -literal -offset indent\n" shown ".Ed\n"
    if (notes != "")
        description = description ".Bl -tag -width Ds -offset indent\n" notes ".El\n"
}

function entry() {
    if (comment != "" || code != "") {
        if (comment ~ /^-+ [a-z ]+ -+$/ && code == "") {
            write_group()
            gsub(/^-+ | -+$/, "", comment)
            group = comment
        } else if (code ~ /NH_API [^\n]*\(/) {
            function_entry(comment, code)
        } else if (code ~ /^(typedef|enum|#define NH_)/) {
            type_entry(comment, code)
        } else if (code == "" && comment != "" && group != "") {
            description = description ".Pp\n" prose(comment)
        }
    }
    comment = code = ""
    last = 0
}

# ------------------------------------------------------------------- lines

BEGIN {
    group = ""
}

# The comment at the top is for nearhand(3); what surrounds the declarations is
# for the compiler.
!started {
    if ($0 ~ /^#ifdef __cplusplus/ || $0 ~ /^#ifndef/) {
        top = comment
        comment = ""
    }
    if ($0 ~ /^#define NH_VERSION_MAJOR/) {
        started = 1
        group = "version"
    } else if ($0 ~ /^ \*( |$)/) {
        sub(/^ \* ?/, "")
        comment = comment (comment == "" ? "" : "\n") $0
        if (top == "" && comment != "")
            whole_top = comment
        next
    } else {
        next
    }
}

/^#ifdef __cplusplus/ {
    entry()
    exit
}

/^$/ {
    entry()
    next
}

# The comment before the declarations.
code == "" && (in_comment || /^\/\*/) {
    text = $0
    in_comment = text !~ /\*\//
    if (text ~ /^ \*\/$/)
        next
    sub(/^\/\* ?/, "", text)
    sub(/^ \* ?/, "", text)
    sub(/ *\*\/ *$/, "", text)
    if (text != "" || in_comment)
        comment = comment (comment == "" ? "" : "\n") text
    next
}

{
    code = code (code == "" ? "" : "\n") $0
}

END {
    write_group()
    sub(/^nearhand: [^\n]*\n\n?/, "", whole_top)
    begin_page("nearhand", "NEARHAND", ".Nm nearhand\n")
    printf ".Sh DESCRIPTION\n%s", tidy(prose(whole_top)) > page
    printf ".Pp\nThe pages of its parts:\n.Bl -column situation\n" > page
    gsub(/\n\.Xr/, " Ta Xr", overview)
    printf "%s.El\n", overview > page
    printf ".Pp\nEach function has a page by its own name, too.\n" > page
    end_page()
}
