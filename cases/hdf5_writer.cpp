// cases/hdf5_writer.cpp — the C interface of HDF5 behind one door.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/hdf5_writer.h"

#include <algorithm>
#include <stdexcept>

namespace lodegear {

namespace {

/// Tables of at least this many values are worth compressing.
constexpr hsize_t least_compressed = 1024;
/// Values in a chunk of a compressed table, about.
constexpr hsize_t chunk_values = 1 << 16;
/// The file in memory grows by this, bytes.
constexpr std::size_t growth = 1 << 20;

void check(herr_t status, const std::string& what) {
  if (status < 0) throw std::runtime_error("The HDF5 library failed at " + what + ".");
}

/// A file in memory; no file of this name is touched.
Hdf5Handle file_in_memory() {
  check(H5Eset_auto2(H5E_DEFAULT, nullptr, nullptr), "its own error messages");
  const Hdf5Handle access(H5Pcreate(H5P_FILE_ACCESS), H5Pclose, "file access");
  check(H5Pset_fapl_core(access, growth, false), "a file in memory");
  const Hdf5Handle creation(H5Pcreate(H5P_FILE_CREATE), H5Pclose, "file creation");
  check(H5Pset_obj_track_times(creation, false), "leaving out times");
  return {H5Fcreate("result.h5", H5F_ACC_TRUNC, creation, access), H5Fclose, "a file in memory"};
}

Hdf5Handle text_type(std::size_t length) {
  Hdf5Handle type(H5Tcopy(H5T_C_S1), H5Tclose, "a text type");
  check(H5Tset_size(type, std::max<std::size_t>(length, 1)), "a text type");
  check(H5Tset_cset(type, H5T_CSET_UTF8), "a text type");
  check(H5Tset_strpad(type, H5T_STR_NULLPAD), "a text type");
  return type;
}

Hdf5Handle dataset_properties(const std::vector<hsize_t>& shape, const std::string& path) {
  Hdf5Handle properties(H5Pcreate(H5P_DATASET_CREATE), H5Pclose, path);
  check(H5Pset_obj_track_times(properties, false), path);
  hsize_t values = 1;
  for (hsize_t n : shape) values *= n;
  if (values < least_compressed) return properties;
  std::vector<hsize_t> chunk = shape;
  chunk[0] = std::min(shape[0], std::max<hsize_t>(1, chunk_values / (values / shape[0])));
  check(H5Pset_chunk(properties, static_cast<int>(chunk.size()), chunk.data()), path);
  check(H5Pset_shuffle(properties), path);
  check(H5Pset_deflate(properties, 4), path);
  check(H5Pset_fletcher32(properties), path);
  return properties;
}

Hdf5Handle space_of(const std::vector<hsize_t>& shape, const std::string& path) {
  if (shape.empty()) return {H5Screate(H5S_SCALAR), H5Sclose, path};
  return {H5Screate_simple(static_cast<int>(shape.size()), shape.data(), nullptr), H5Sclose, path};
}

Hdf5Handle links_with_groups(const std::string& path) {
  Hdf5Handle properties(H5Pcreate(H5P_LINK_CREATE), H5Pclose, path);
  check(H5Pset_create_intermediate_group(properties, 1), path);
  return properties;
}

template <class Matrix>
std::vector<hsize_t> shape_of(const Matrix& m) {
  return {static_cast<hsize_t>(m.rows()), static_cast<hsize_t>(m.cols())};
}

}  // namespace

Hdf5Handle::Hdf5Handle(hid_t id, Close close, const std::string& what) : id_(id), close_(close) {
  if (id < 0) throw std::runtime_error("The HDF5 library failed at " + what + ".");
}
Hdf5Handle::~Hdf5Handle() {
  if (id_ >= 0) close_(id_);
}
Hdf5Handle::Hdf5Handle(Hdf5Handle&& other) noexcept : id_(other.id_), close_(other.close_) {
  other.id_ = -1;
}

Hdf5Writer::Hdf5Writer() : file_(file_in_memory()) {}

void Hdf5Writer::dataset(const std::string& path, const std::vector<hsize_t>& shape, hid_t stored,
                         hid_t in_memory, const void* data) {
  const Hdf5Handle space = space_of(shape, path);
  const Hdf5Handle links = links_with_groups(path);
  const Hdf5Handle properties = dataset_properties(shape, path);
  const Hdf5Handle set(
      H5Dcreate2(file_, path.c_str(), stored, space, links, properties, H5P_DEFAULT), H5Dclose,
      path);
  if (H5Sget_simple_extent_npoints(space) > 0)
    check(H5Dwrite(set, in_memory, H5S_ALL, H5S_ALL, H5P_DEFAULT, data), path);
}

void Hdf5Writer::table(const std::string& path, const Reals& values) {
  dataset(path, shape_of(values), H5T_IEEE_F64LE, H5T_NATIVE_DOUBLE, values.data());
}
void Hdf5Writer::table(const std::string& path, const Integers& values) {
  dataset(path, shape_of(values), H5T_STD_I32LE, H5T_NATIVE_INT, values.data());
}
void Hdf5Writer::column(const std::string& path, const Eigen::VectorXd& values) {
  dataset(path, {static_cast<hsize_t>(values.size())}, H5T_IEEE_F64LE, H5T_NATIVE_DOUBLE,
          values.data());
}
void Hdf5Writer::column(const std::string& path, const std::vector<int>& values) {
  dataset(path, {values.size()}, H5T_STD_I32LE, H5T_NATIVE_INT, values.data());
}

void Hdf5Writer::texts(const std::string& path, const std::vector<std::string>& values) {
  std::size_t length = 1;
  for (const std::string& value : values) length = std::max(length, value.size());
  std::string padded;
  for (const std::string& value : values) padded += value + std::string(length - value.size(), 0);
  const Hdf5Handle type = text_type(length);
  dataset(path, {values.size()}, type, type, padded.data());
}

void Hdf5Writer::text(const std::string& path, const std::string& value) {
  const Hdf5Handle type = text_type(value.size());
  dataset(path, {}, type, type, value.c_str());
}

void Hdf5Writer::group(const std::string& path) {
  const Hdf5Handle links = links_with_groups(path);
  const Hdf5Handle made(H5Gcreate2(file_, path.c_str(), links, H5P_DEFAULT, H5P_DEFAULT), H5Gclose,
                        path);
}

void Hdf5Writer::attribute(const std::string& path, const std::string& name, hid_t stored,
                           hid_t in_memory, const void* data) {
  const std::string what = path + "@" + name;
  const Hdf5Handle space = space_of({}, what);
  const Hdf5Handle made(H5Acreate_by_name(file_, path.c_str(), name.c_str(), stored, space,
                                          H5P_DEFAULT, H5P_DEFAULT, H5P_DEFAULT),
                        H5Aclose, what);
  check(H5Awrite(made, in_memory, data), what);
}

void Hdf5Writer::attribute(const std::string& path, const std::string& name,
                           const std::string& value) {
  const Hdf5Handle type = text_type(value.size());
  attribute(path, name, type, type, value.c_str());
}
void Hdf5Writer::attribute(const std::string& path, const std::string& name, double value) {
  attribute(path, name, H5T_IEEE_F64LE, H5T_NATIVE_DOUBLE, &value);
}
void Hdf5Writer::attribute(const std::string& path, const std::string& name, int value) {
  attribute(path, name, H5T_STD_I32LE, H5T_NATIVE_INT, &value);
}

std::string Hdf5Writer::bytes() const {
  check(H5Fflush(file_, H5F_SCOPE_GLOBAL), "putting the file together");
  const ssize_t size = H5Fget_file_image(file_, nullptr, 0);
  if (size < 0) throw std::runtime_error("The HDF5 library failed at putting the file together.");
  std::string image(static_cast<std::size_t>(size), '\0');
  if (H5Fget_file_image(file_, image.data(), image.size()) < 0)
    throw std::runtime_error("The HDF5 library failed at putting the file together.");
  return image;
}

}  // namespace lodegear
