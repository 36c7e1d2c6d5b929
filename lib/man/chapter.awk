# Makes a page of the manual, in mdoc(7), of a header: what it declares, each declaration
# followed by its comment. Each function and type gets a page by its name, which refers
# to the header's.
#
#     awk -v out=FOLDER -v version=VERSION -v date=DATE -f chapter.awk HEADER
#
# It relies on the layout of the headers: at the top a comment "nearhand, chapter N: what
# it is.", sections headed /* ---- name --- */, and between blank lines entries: a comment,
# declarations, or a comment right above declarations. In comments indented lines are
# shown as they stand.

function escaped(line) {
    gsub(/\\/, "\\e", line)
    return line ~ /^[.']/ ? "\\&" line : line
}

# A comment: paragraphs, in which each sentence begins a line, and lines as they stand.
function put_prose(text,    count, line, i, shown, gap, parts, j, part) {
    count = split(text, line, "\n")
    for (i = 1; i <= count; i++) {
        if (line[i] ~ /^ / && !shown)
            print ".Bd -literal -offset indent" > page
        else if (line[i] ~ /^[^ ]/ && shown)
            print ".Ed" > page
        if (line[i] ~ /^[^ ]/ && (gap || shown) && i > 1)
            print ".Pp" > page
        gap = line[i] == ""
        if (gap)
            continue
        shown = line[i] ~ /^ /
        gsub(/`/, "", line[i])
        parts = shown ? 0 : split(line[i], part, /\. +/)
        for (j = 1; j < parts; j++)
            print escaped(part[j] ".") > page
        print escaped(shown ? line[i] : part[parts]) > page
    }
    if (shown)
        print ".Ed" > page
}

function put_code(text,    count, line, i, exported) {
    count = split(text, line, "\n")
    print ".Bd -literal" > page
    for (i = 1; i <= count; i++) {
        if (line[i] ~ /^[^ ]/)
            exported = sub(/^NH_API /, "", line[i])
        else if (exported)
            sub(/^       /, "", line[i])
        sub(/ +\\$/, " \\", line[i])
        print escaped(line[i]) > page
    }
    print ".Ed" > page
}

# The function or type that a line declares, if it does.
function declared(line) {
    if (line ~ /^NH_API / && match(line, /nh_[a-z0-9_]+\(/))
        return substr(line, RSTART, RLENGTH - 1)
    if (line ~ /^typedef / && match(line, /\(\*nh_[a-z0-9_]+\)/))
        return substr(line, RSTART + 2, RLENGTH - 3)
    if (line ~ /^typedef (struct|enum) / && match(line, /nh_[a-z0-9_]+/))
        return substr(line, RSTART, RLENGTH)
    return ""
}

function end_entry() {
    if (comment != "" || code != "") {
        prose[++entries] = comment
        declarations[entries] = code
    }
    comment = code = ""
}

BEGIN {
    chapter = ARGV[1]
    gsub(/.*\/|\.h$/, "", chapter)
    page = out "/" chapter ".3"
}

# What surrounds the declarations is for the compiler.
/^$/ || /^#(if|el|endif|include)/ || /^#define (NH_API|NEARHAND_)/ || /^extern "C"/ || /^}$/ {
    end_entry()
    next
}

code == "" && (inside || /^\/\*/) {
    inside = $0 !~ /\*\//
    last = $0 ~ /^ \*\/$/
    gsub(/^\/\* ?| *\*\/$/, "")
    sub(/^ \* ?/, "")
    if (!last && ($0 != "" || comment != ""))
        comment = comment (comment == "" ? "" : "\n") $0
    next
}

{
    code = code (code == "" ? "" : "\n") $0
    name = declared($0)
    if (name != "") {
        names = names " ,\n.Nm " name
        print ".so man3/" chapter ".3" > (out "/" name ".3")
        close(out "/" name ".3")
    }
}

END {
    end_entry()
    sub(/^nearhand[^:]*: /, "", prose[1])
    about = prose[1]
    sub(/\.(\n.*|$)/, "", about)
    rest = substr(prose[1], length(about) + 2)
    gsub(/\n/, " ", about)
    sub(/^\n+/, "", rest)
    printf ".\\\" Made of %s.h.\n.Dd %s\n.Dt %s 3\n.Os nearhand %s\n", chapter, date, \
        toupper(chapter), version > page
    printf ".Sh NAME\n.Nm %s%s\n.Nd %s\n", chapter, names, about > page
    printf ".Sh LIBRARY\nnearhand, linked with\n.Fl lnearhand\n" > page
    printf ".Sh SYNOPSIS\n.In %s.h\n.Sh DESCRIPTION\n", chapter > page
    put_prose(rest)
    headed = rest == ""
    for (i = 2; i <= entries; i++) {
        section = prose[i]
        if (gsub(/^-+ | -+$/, "", section) == 2 && declarations[i] == "") {
            print ".Ss " toupper(substr(section, 1, 1)) substr(section, 2) > page
            headed = 1
            continue
        }
        if (declarations[i] != "")
            put_code(declarations[i])
        else if (!headed)
            print ".Pp" > page
        put_prose(prose[i])
        headed = 0
    }
    print ".Sh SEE ALSO\n.Xr nearhand 1 ," > page
    if (chapter != "nearhand")
        print ".Xr nearhand 3 ," > page
    print ".Xr nearhand-list 5 ,\n.Xr nearhand-security 7" > page
}
