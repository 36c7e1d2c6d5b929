# The parser of JSON. The target nearhand_cjson has its header, and links it where
# the system has it; NH_CJSON_SOURCE builds it into the library instead.
if(NH_CJSON_SOURCE)
  cmake_path(ABSOLUTE_PATH NH_CJSON_SOURCE BASE_DIRECTORY ${CMAKE_SOURCE_DIR} NORMALIZE
             OUTPUT_VARIABLE cjson_source)
  foreach(file cJSON.c cJSON.h)
    if(NOT EXISTS ${cjson_source}/${file})
      message(FATAL_ERROR "NH_CJSON_SOURCE: ${cjson_source} has no ${file}")
    endif()
  endforeach()
  # Included as <cjson/cJSON.h>, as where it is installed.
  configure_file(${cjson_source}/cJSON.h ${PROJECT_BINARY_DIR}/include/cjson/cJSON.h COPYONLY)
  add_library(nearhand_cjson_objects OBJECT ${cjson_source}/cJSON.c)
  target_compile_options(nearhand_cjson_objects PRIVATE -w)
  add_library(nearhand_cjson INTERFACE)
  target_include_directories(nearhand_cjson SYSTEM INTERFACE ${PROJECT_BINARY_DIR}/include)
  target_link_libraries(nearhand_cjson INTERFACE m)
else()
  # Global, for a project that holds this one as a subfolder.
  set(CMAKE_FIND_PACKAGE_TARGETS_GLOBAL ON)
  find_package(PkgConfig QUIET)
  if(NOT PKG_CONFIG_FOUND)
    message(FATAL_ERROR "pkg-config is missing (on Debian: apt install pkg-config)")
  endif()
  pkg_check_modules(CJSON QUIET IMPORTED_TARGET GLOBAL libcjson)
  if(NOT CJSON_FOUND)
    message(FATAL_ERROR "cJSON is missing (on Debian: apt install libcjson-dev). To build without "
                        "a package, set NH_CJSON_SOURCE to a folder with cJSON.c and cJSON.h")
  endif()
  add_library(nearhand_cjson INTERFACE)
  target_link_libraries(nearhand_cjson INTERFACE PkgConfig::CJSON)
endif()
