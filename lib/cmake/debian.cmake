# Run by cpack between laying out a package and closing it: gives a Debian package
# the shape that Debian's policy and tools look for.
if(NOT CPACK_GENERATOR STREQUAL "DEB")
  return()
endif()

set(share ${CPACK_TEMPORARY_INSTALL_DIRECTORY}${CPACK_PACKAGING_INSTALL_PREFIX}/share)
file(RENAME ${share}/doc/nearhand/LICENSE ${share}/doc/nearhand/copyright)

# Debian's zsh looks for the functions of packages in a folder of its own.
if(EXISTS ${share}/zsh/site-functions)
  file(RENAME ${share}/zsh/site-functions ${share}/zsh/vendor-completions)
endif()

# Pages of the manual are compressed; what only refers to one refers to its name
# without the ending, which man looks for by itself.
file(GLOB pages ${share}/man/*/*.[135])
execute_process(COMMAND gzip -9n ${pages} COMMAND_ERROR_IS_FATAL ANY)
