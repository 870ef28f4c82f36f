// cases/versions.cpp — version numbers from the libraries' own headers.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/versions.h"

#include <cholmod.h>
#include <dlfcn.h>
#include <gmsh.h>
#include <hdf5.h>
#include <openssl/crypto.h>

#include <Eigen/Core>
#include <nlohmann/json.hpp>

namespace lodegear {

namespace {

std::string dotted(long a, long b, long c) {
  return std::to_string(a) + "." + std::to_string(b) + "." + std::to_string(c);
}

std::string hdf5_version() {
  unsigned a = 0, b = 0, c = 0;
  H5get_libversion(&a, &b, &c);
  return dotted(a, b, c);
}

/// "0.3.21" of the OpenBLAS that is loaded, if it is that one.
std::string blas_version() {
  using Config = char* (*)();
  const auto config = reinterpret_cast<Config>(dlsym(RTLD_DEFAULT, "openblas_get_config"));
  if (!config) return "another BLAS than OpenBLAS";
  const std::string text = config();  // "OpenBLAS 0.3.21 DYNAMIC_ARCH …"
  const std::size_t from = text.find(' ') + 1;
  return text.substr(from, text.find(' ', from) - from);
}

}  // namespace

std::string lodegear_version() { return LODEGEAR_VERSION; }

std::vector<std::pair<std::string, std::string>> library_versions() {
  return {
      {"CHOLMOD", dotted(CHOLMOD_MAIN_VERSION, CHOLMOD_SUB_VERSION, CHOLMOD_SUBSUB_VERSION)},
      {"Eigen", dotted(EIGEN_WORLD_VERSION, EIGEN_MAJOR_VERSION, EIGEN_MINOR_VERSION)},
      {"Gmsh interface", GMSH_API_VERSION},
      {"HDF5", hdf5_version()},
      {"nlohmann JSON", dotted(NLOHMANN_JSON_VERSION_MAJOR, NLOHMANN_JSON_VERSION_MINOR,
                               NLOHMANN_JSON_VERSION_PATCH)},
      {"OpenBLAS", blas_version()},
      {"OpenSSL", OpenSSL_version(OPENSSL_VERSION_STRING)},
      {"toml++", LODEGEAR_TOML_VERSION},
  };
}

}  // namespace lodegear
