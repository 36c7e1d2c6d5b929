# What find_package(nearhand) gives: nearhand::nearhand, the shared library, and,
# where cJSON is installed for it to be linked with, nearhand::static. Whoever
# cannot do without one asks for the component `shared` or `static`.
include(${CMAKE_CURRENT_LIST_DIR}/nearhand-shared.cmake)
set(nearhand_shared_FOUND TRUE)

find_package(Threads QUIET)
find_package(PkgConfig QUIET)
if(PkgConfig_FOUND AND NOT TARGET PkgConfig::CJSON)
  pkg_check_modules(CJSON QUIET IMPORTED_TARGET libcjson)
endif()
if(Threads_FOUND AND TARGET PkgConfig::CJSON)
  include(${CMAKE_CURRENT_LIST_DIR}/nearhand-static.cmake)
  set(nearhand_static_FOUND TRUE)
endif()

foreach(component ${nearhand_FIND_COMPONENTS})
  if(nearhand_FIND_REQUIRED_${component} AND NOT nearhand_${component}_FOUND)
    set(nearhand_FOUND FALSE)
    set(nearhand_NOT_FOUND_MESSAGE
        "nearhand has no ${component}; it has shared, and static where cJSON (libcjson) is found")
  endif()
endforeach()
