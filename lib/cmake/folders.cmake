# Run by each install before all else: makes the folders that files go to, where they
# are missing, with modes that let everyone read them. Those that CMake would make on
# its way follow the umask.
function(make_folder folder)
  if(EXISTS ${folder})
    return()
  endif()
  cmake_path(GET folder PARENT_PATH parent)
  make_folder(${parent})
  file(MAKE_DIRECTORY ${folder})
  file(CHMOD ${folder} PERMISSIONS OWNER_READ OWNER_WRITE OWNER_EXECUTE
       GROUP_READ GROUP_EXECUTE WORLD_READ WORLD_EXECUTE)
endfunction()

# Packages of parts are put in order by debian.cmake.
if(NOT CMAKE_INSTALL_COMPONENT)
  foreach(folder ${NH_FOLDERS})
    cmake_path(ABSOLUTE_PATH folder BASE_DIRECTORY ${CMAKE_INSTALL_PREFIX})
    make_folder($ENV{DESTDIR}${folder})
  endforeach()
endif()
