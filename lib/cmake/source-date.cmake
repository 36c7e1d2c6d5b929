# Run by cpack first of all: what it makes of one commit is the same bytes, whenever and
# wherever it is made. The time is that of the commit, unless the caller sets one.
if(NOT DEFINED ENV{SOURCE_DATE_EPOCH})
  execute_process(COMMAND git -C ${CMAKE_CURRENT_LIST_DIR} log -1 --format=%ct
                  OUTPUT_VARIABLE time OUTPUT_STRIP_TRAILING_WHITESPACE ERROR_QUIET)
  if(time MATCHES "^[0-9]+$")
    set(ENV{SOURCE_DATE_EPOCH} ${time})
  endif()
endif()
