// materials/catalogue.cpp — every material known by name.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "materials/catalogue.h"

#include <algorithm>
#include <cctype>
#include <fstream>
#include <iterator>

#include "materials/embedded_data.h"
#include "materials/nearest_name.h"
#include "materials/words.h"

namespace lodegear {

namespace {

constexpr const char* folder_names[] = {"curves", "magnets", "others", "steels"};

const char* folder_of(MaterialKind kind) {
  switch (kind) {
    case MaterialKind::steel:
      return "steels";
    case MaterialKind::magnet:
      return "magnets";
    case MaterialKind::other:
      return "others";
  }
  return "";
}

std::string key_of(std::string_view name) {
  std::string key(name);
  for (char& c : key) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return key;
}

/// " Did you mean M400-50A or M400-65A?", or nothing.
std::string suggestion(std::string_view name, const std::vector<std::string>& known) {
  std::string text;
  for (const std::string& near : nearest_names(name, known, 3))
    text += (text.empty() ? " Did you mean " : " or ") + near;
  return text.empty() ? text : text.append("?");
}

}  // namespace

std::string kind_text(MaterialKind kind) {
  switch (kind) {
    case MaterialKind::steel:
      return "steel";
    case MaterialKind::magnet:
      return "magnet";
    case MaterialKind::other:
      return "non-magnetic material";
  }
  return {};
}

Catalogue::Catalogue() {
  for (const char* folder : folder_names) folders_[folder];
  for (const EmbeddedFile& file : embedded_files()) {
    const std::string name(file.stem);
    const std::string shown = std::string(file.folder) + "/" + name + ".toml";
    folders_[std::string(file.folder)][key_of(name)] = {name, shown, file.text, {}};
  }
}

Catalogue::Catalogue(const std::filesystem::path& own_folder) : Catalogue() {
  std::error_code error;
  if (!std::filesystem::is_directory(own_folder, error))
    throw InputError({{own_folder.string(), {}, "there is no such folder of materials."}});
  for (const char* folder : folder_names) add_own(own_folder, folder);
}

void Catalogue::add_own(const std::filesystem::path& own_folder, const char* kind) {
  std::error_code error;
  const std::filesystem::path folder = own_folder / kind;
  if (!std::filesystem::is_directory(folder, error)) return;
  for (std::filesystem::directory_iterator it(folder, error), end; !error && it != end;
       it.increment(error)) {
    if (it->path().extension() != ".toml") continue;
    const std::string name = it->path().stem().string();
    if (key_of(name) == "air" || key_of(name) == "ideal iron")
      throw InputError({{it->path().string(), {}, "this name is reserved; choose another."}});
    folders_[kind][key_of(name)] = {name, it->path().string(), {}, it->path()};
  }
  if (error)
    throw InputError({{folder.string(), {}, "cannot be listed: " + error.message() + "."}});
}

std::vector<std::string> Catalogue::names_in(const char* folder) const {
  std::vector<std::string> names;
  for (const auto& [key, source] : folders_.find(folder)->second) names.push_back(source.name);
  return names;
}

std::string Catalogue::contents() const {
  std::string all;
  for (const auto& [folder, sources] : folders_)
    for (const auto& [key, source] : sources) {
      all += folder + "/" + key + "\n";
      if (source.path.empty()) {
        all += source.text;
      } else {
        std::ifstream file(source.path, std::ios::binary);
        all.append(std::istreambuf_iterator<char>(file), {});
      }
    }
  return all;
}

std::vector<std::string> Catalogue::names(MaterialKind kind) const {
  return names_in(folder_of(kind));
}

std::vector<std::string> Catalogue::curve_names() const { return names_in("curves"); }

std::optional<MaterialKind> Catalogue::kind_of(std::string_view name) const {
  for (const MaterialKind kind : {MaterialKind::steel, MaterialKind::magnet, MaterialKind::other})
    if (folders_.find(folder_of(kind))->second.contains(key_of(name))) return kind;
  return std::nullopt;
}

std::optional<std::string> Catalogue::why_not(MaterialKind kind, std::string_view name) const {
  if (folders_.find(folder_of(kind))->second.contains(key_of(name))) return std::nullopt;
  if (const auto other = kind_of(name))
    return in_quotes(name.substr(0, 60)) + " is a " + kind_text(*other) + "; a " + kind_text(kind) +
           " is wanted here.";
  return "there is no " + kind_text(kind) + " " + in_quotes(name.substr(0, 60)) + "." +
         suggestion(name, names(kind));
}

/// Reads the file on first use; `fault` is what to say if there is none of that name.
template <class Material, class Read>
const Material& Catalogue::loaded(std::map<std::string, Material>& kept, const char* folder,
                                  std::string_view name, const std::string& fault,
                                  Read read) const {
  const std::string key = key_of(name);
  if (const auto it = kept.find(key); it != kept.end()) return it->second;
  const Folder& sources = folders_.find(folder)->second;
  const auto source = sources.find(key);
  if (source == sources.end()) throw InputError(fault);
  const Source& s = source->second;
  const TomlDocument document =
      s.path.empty() ? toml_document(s.text, s.file) : read_toml_file(s.path);
  ReadLog log;
  TableReader table(document, log);
  Material material = read(table, s.name);
  log.throw_if_wrong();
  return kept.emplace(key, std::move(material)).first->second;
}

const Steel& Catalogue::steel(std::string_view name) const {
  return loaded(steels_, "steels", name, why_not(MaterialKind::steel, name).value_or(""),
                [this](TableReader& table, const std::string& own_name) {
                  return read_steel(table, own_name, MaterialPlace::data_file, curve_lookup());
                });
}

const MagnetMaterial& Catalogue::magnet(std::string_view name) const {
  return loaded(magnets_, "magnets", name, why_not(MaterialKind::magnet, name).value_or(""),
                [](TableReader& table, const std::string& own_name) {
                  return read_magnet(table, own_name, MaterialPlace::data_file);
                });
}

const OtherMaterial& Catalogue::other(std::string_view name) const {
  return loaded(others_, "others", name, why_not(MaterialKind::other, name).value_or(""),
                [](TableReader& table, const std::string& own_name) {
                  return read_other(table, own_name, MaterialPlace::data_file);
                });
}

const BhCurve& Catalogue::curve(std::string_view name) const {
  const std::string fault =
      "there is no curve " + in_quotes(name.substr(0, 60)) + "." + suggestion(name, curve_names());
  return loaded(curves_, "curves", name, fault, read_curve);
}

CurveLookup Catalogue::curve_lookup() const {
  return [this](TableReader& reader, const std::string& key, const std::string& name) {
    try {
      return curve(name);
    } catch (const InputError& error) {
      reader.complain(key, error.what());
      return BhCurve({{100.0, 1.0}, {1e4, 1.7}, {1e5, 2.1}});  // never used: there is a complaint
    }
  };
}

Steel Catalogue::inline_steel(TableReader& table, const std::string& name) const {
  return read_steel(table, name, MaterialPlace::inline_table, curve_lookup());
}

}  // namespace lodegear
