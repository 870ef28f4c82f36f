# tools/cmake/install.cmake — the program, and the library for find_package(lodegear).
# SPDX-License-Identifier: GPL-3.0-or-later
include(GNUInstallDirs)
include(CMakePackageConfigHelpers)
set(package_folder ${CMAKE_INSTALL_LIBDIR}/cmake/lodegear)

install(TARGETS lodegear)
install(TARGETS lodegear_materials lodegear_mesh lodegear_solver lodegear_cases
        EXPORT lodegear ARCHIVE DESTINATION ${CMAKE_INSTALL_LIBDIR})
foreach(folder materials mesh solver cases)
  install(DIRECTORY ${folder} DESTINATION ${CMAKE_INSTALL_INCLUDEDIR}/lodegear
          FILES_MATCHING PATTERN "*.h")
endforeach()
install(EXPORT lodegear NAMESPACE lodegear:: FILE lodegear-targets.cmake
        DESTINATION ${package_folder})
write_basic_package_version_file(${CMAKE_BINARY_DIR}/lodegear-config-version.cmake
                                 COMPATIBILITY SameMinorVersion)
install(FILES tools/cmake/lodegear-config.cmake tools/cmake/FindCHOLMOD.cmake
              tools/cmake/FindGmsh.cmake ${CMAKE_BINARY_DIR}/lodegear-config-version.cmake
        DESTINATION ${package_folder})
