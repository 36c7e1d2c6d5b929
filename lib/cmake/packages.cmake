# What cpack makes: a package for Debian and its kin, and an archive to unpack
# anywhere.
set(CPACK_GENERATOR DEB TGZ)
set(CPACK_PACKAGE_NAME nearhand)
set(CPACK_PACKAGE_VENDOR "nearhand")
set(CPACK_PACKAGE_CONTACT "the nearhand authors <authors@nearhand.invalid>")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY "how far a mahjong hand is from each pattern of a list")
set(CPACK_PACKAGE_DESCRIPTION
    "For players, teachers and list keepers of mahjong that is played from a printed
list of winning hands: nearhand works out exactly how many tiles each pattern is
away, which target is the best to go for, what it still needs, which tiles are
spare, and how likely it is to come; and it audits lists.
.
This package has the program, three lists, and the library with its header, for
programs of one's own.")
set(CPACK_RESOURCE_FILE_LICENSE ${PROJECT_SOURCE_DIR}/LICENSE)
set(CPACK_STRIP_FILES ON)
set(CPACK_PACKAGE_CHECKSUM SHA256)
set(CPACK_THREADS 1)

set(CPACK_DEBIAN_FILE_NAME DEB-DEFAULT)
set(CPACK_DEBIAN_PACKAGE_SECTION games)
set(CPACK_DEBIAN_PACKAGE_SHLIBDEPS ON)
set(CPACK_DEBIAN_PACKAGE_GENERATE_SHLIBS ON)
set(CPACK_DEBIAN_PACKAGE_SUGGESTS "libcjson-dev, pkg-config")
set(CPACK_PRE_BUILD_SCRIPTS ${CMAKE_CURRENT_LIST_DIR}/debian.cmake)

include(CPack)
