// cases/studies/study_hdf5.cpp — all designs of a study as one HDF5 file.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <limits>

#include "cases/hdf5_writer.h"
#include "cases/studies/study_table.h"

namespace lodegear {

namespace {

constexpr int layout = 1;

Eigen::VectorXd vector_of(const std::vector<double>& values) {
  return Eigen::Map<const Eigen::VectorXd>(values.data(), static_cast<Eigen::Index>(values.size()));
}

void write_varied(const StudyTable& table, Hdf5Writer& file) {
  file.group("/varied");
  for (std::size_t i = 0; i < table.record.columns.size(); ++i) {
    const std::string path = "/varied/" + table.record.columns[i];
    if (const auto numbers = numbers_of_column(table, i)) {
      file.column(path, vector_of(*numbers));
      continue;
    }
    std::vector<std::string> texts;
    for (const DesignRow& row : table.rows) texts.push_back(row.cells[i]);
    file.texts(path, texts);
  }
}

void write_figures(const StudyTable& table, Hdf5Writer& file) {
  file.group("/figures");
  for (std::size_t i = 0; i < table.record.figures.size(); ++i) {
    const std::string path = "/figures/" + table.record.figures[i];
    std::vector<double> values;
    for (const DesignRow& row : table.rows)
      values.push_back(row.outcome.figures[i].value_or(std::numeric_limits<double>::quiet_NaN()));
    file.column(path, vector_of(values));
    file.attribute(path, "unit", unit_of(table.record.figures[i]));
  }
}

}  // namespace

std::string study_hdf5(const StudyTable& table) {
  Hdf5Writer file;
  file.attribute("/", "format", std::string("lodegear study"));
  file.attribute("/", "layout", layout);
  file.attribute("/", "study", table.record.name);
  file.attribute("/", "version", table.record.version);
  std::vector<int> numbers, states;
  std::vector<std::string> remarks;
  for (const DesignRow& row : table.rows) {
    numbers.push_back(row.number);
    states.push_back(static_cast<int>(row.outcome.state));
    remarks.push_back(row.outcome.remark);
  }
  file.column("/design", numbers);
  file.column("/state", states);
  file.attribute("/state", "words", std::string("0 good, 1 unsure, 2 failed"));
  file.texts("/remark", remarks);
  write_varied(table, file);
  write_figures(table, file);
  file.text("/study_file", table.study.source_text);
  return file.bytes();
}

}  // namespace lodegear
