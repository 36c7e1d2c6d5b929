# Shows nearhand.h to Doxygen: its comments as those that Doxygen reads, its
# sections as groups, and a comment over several functions as that of each.
#
#     awk -f doxygen.awk nearhand.h
#
# The layout that it relies on is that which pages.awk tells of.

function show(    i, comment, functions) {
    comment = functions = 0
    for (i = 1; i <= lines; i++) {
        if (line[i] ~ /NH_API [^*].*\(|NH_API const char \*nh/)
            functions++
        if (line[i] ~ /\*\/$/ && !functions)
            comment = i
    }
    for (i = 1; i <= lines; i++) {
        sub(/^\/\* /, "/** ", line[i])
        if (line[i] ~ /[^ ].*\/\* /)
            sub(/\/\* /, "/**< ", line[i])
        print line[i]
        if (i == comment && functions > 1)
            print "/**@{*/"
    }
    if (comment && functions > 1)
        print "/**@}*/"
    lines = 0
}

/^\/\* -+ [a-z ]+ -+ \*\/$/ {
    show()
    name = $0
    gsub(/^\/\* -+ | -+ \*\/$/, "", name)
    id = name
    gsub(/ /, "_", id)
    if (grouped)
        print "/** @} */"
    print "/** @defgroup " id " " toupper(substr(name, 1, 1)) substr(name, 2) "\n * @{ */"
    grouped = 1
    next
}

/^\/\*$/ && NR == 1 {
    print FILENAME ~ /nearhand\.h$/ ? "/** @file */\n/** @mainpage nearhand" : "/** @file"
    next
}

/^#ifdef __cplusplus/ && grouped {
    show()
    print "/** @} */"
    grouped = 0
}

/^$/ {
    show()
    print ""
    next
}

{
    line[++lines] = $0
}

END {
    show()
}
