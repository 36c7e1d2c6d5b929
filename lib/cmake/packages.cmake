# What cpack makes: an archive to unpack anywhere. Packages for Debian and its kin are
# made by lib/cmake/make-packages.
set(CPACK_GENERATOR TGZ)
set(CPACK_PACKAGE_NAME nearhand)
set(CPACK_PACKAGE_VENDOR "nearhand")
set(CPACK_PACKAGE_DESCRIPTION_SUMMARY ${PROJECT_DESCRIPTION})
set(CPACK_RESOURCE_FILE_LICENSE ${PROJECT_SOURCE_DIR}/LICENSE)
set(CPACK_STRIP_FILES ON)
set(CPACK_PACKAGE_CHECKSUM SHA256)
set(CPACK_THREADS 1)
set(CPACK_PROJECT_CONFIG_FILE ${CMAKE_CURRENT_LIST_DIR}/source-date.cmake)
include(CPack)
