# What is installed besides library and program, how it is removed again, and the
# packages that are made of it.
install(DIRECTORY patterns/ DESTINATION ${NH_PATTERNS} COMPONENT program
        FILES_MATCHING PATTERN "*.json")
install(FILES LICENSE README.md DESTINATION ${NH_DOCUMENTS} COMPONENT program)

# What runs from a checkout alone stays there. Modes are set here: those of a checkout follow the umask of who made it.
file(GLOB examples CONFIGURE_DEPENDS examples/*)
set(scripts ${examples})
list(FILTER examples EXCLUDE REGEX "/(start|browser)$|\\.(sh|py|js)$")
list(FILTER scripts INCLUDE REGEX "\\.(sh|py|js)$")
install(FILES ${examples} DESTINATION ${NH_DOCUMENTS}/examples COMPONENT development)
install(PROGRAMS ${scripts} DESTINATION ${NH_DOCUMENTS}/examples COMPONENT development)

if(PROJECT_IS_TOP_LEVEL)
  add_custom_target(uninstall
                    COMMAND ${CMAKE_COMMAND} -D MANIFEST=${PROJECT_BINARY_DIR}/install_manifest.txt
                            -P ${CMAKE_CURRENT_LIST_DIR}/uninstall.cmake
                    VERBATIM)
  include(lib/cmake/packages.cmake)
endif()
