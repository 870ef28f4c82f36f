# tools/cmake/lodegear-config.cmake — what find_package(lodegear) reads.
# SPDX-License-Identifier: GPL-3.0-or-later
include(CMakeFindDependencyMacro)
list(APPEND CMAKE_MODULE_PATH ${CMAKE_CURRENT_LIST_DIR})
find_dependency(Threads)
find_dependency(OpenMP COMPONENTS CXX)
find_dependency(Eigen3 3.4)
find_dependency(Gmsh)
find_dependency(CHOLMOD)
find_dependency(BLAS)
find_dependency(OpenSSL COMPONENTS Crypto)
find_dependency(nlohmann_json)
include(${CMAKE_CURRENT_LIST_DIR}/lodegear-targets.cmake)
