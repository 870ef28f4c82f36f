# tools/cmake/FindGmsh.cmake — finds the Gmsh SDK (Debian ships no config file) and defines Gmsh::Gmsh.
# SPDX-License-Identifier: GPL-3.0-or-later
find_path(Gmsh_INCLUDE_DIR gmsh.h)
find_library(Gmsh_LIBRARY gmsh)
include(FindPackageHandleStandardArgs)
find_package_handle_standard_args(Gmsh REQUIRED_VARS Gmsh_LIBRARY Gmsh_INCLUDE_DIR)
if(Gmsh_FOUND AND NOT TARGET Gmsh::Gmsh)
  add_library(Gmsh::Gmsh UNKNOWN IMPORTED)
  set_target_properties(Gmsh::Gmsh PROPERTIES IMPORTED_LOCATION "${Gmsh_LIBRARY}"
                        INTERFACE_INCLUDE_DIRECTORIES "${Gmsh_INCLUDE_DIR}")
endif()
mark_as_advanced(Gmsh_INCLUDE_DIR Gmsh_LIBRARY)
