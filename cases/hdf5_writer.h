// cases/hdf5_writer.h — building an HDF5 file in memory, same content, same bytes.
// SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <hdf5.h>

#include <Eigen/Core>
#include <string>
#include <vector>

namespace lodegear {

/// An HDF5 object that is closed with its owner.
class Hdf5Handle {
 public:
  using Close = herr_t (*)(hid_t);
  /// Throws std::runtime_error, naming `what`, if the library returned no handle.
  Hdf5Handle(hid_t id, Close close, const std::string& what);
  ~Hdf5Handle();
  Hdf5Handle(Hdf5Handle&& other) noexcept;
  Hdf5Handle(const Hdf5Handle&) = delete;
  Hdf5Handle& operator=(const Hdf5Handle&) = delete;
  operator hid_t() const { return id_; }

 private:
  hid_t id_;
  Close close_;
};

/// Writes groups, tables, texts and attributes by path ("/slip_curve/torque"); groups on the way
/// are made as needed. No times are stored and texts have fixed length (UTF-8, padded with zeros),
/// so the bytes depend on the content alone. Larger tables are shuffled, deflated and carry
/// checksums.
///
/// Not to be used from several threads at once: the library is not made for it.
class Hdf5Writer {
 public:
  Hdf5Writer();

  using Reals = Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
  using Integers = Eigen::Matrix<int, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>;
  void table(const std::string& path, const Reals& values);
  void table(const std::string& path, const Integers& values);
  void column(const std::string& path, const Eigen::VectorXd& values);
  void column(const std::string& path, const std::vector<int>& values);
  void texts(const std::string& path, const std::vector<std::string>& values);
  void text(const std::string& path, const std::string& value);
  void group(const std::string& path);

  void attribute(const std::string& path, const std::string& name, const std::string& value);
  void attribute(const std::string& path, const std::string& name, double value);
  void attribute(const std::string& path, const std::string& name, int value);

  /// The file so far.
  std::string bytes() const;

 private:
  void dataset(const std::string& path, const std::vector<hsize_t>& shape, hid_t stored,
               hid_t in_memory, const void* data);
  void attribute(const std::string& path, const std::string& name, hid_t stored, hid_t in_memory,
                 const void* data);

  Hdf5Handle file_;
};

}  // namespace lodegear
