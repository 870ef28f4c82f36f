// materials/catalogue.h — every material known by name: the built-in ones and a folder of one's
// own. SPDX-License-Identifier: GPL-3.0-or-later
#pragma once
#include <filesystem>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "materials/read_material.h"

namespace lodegear {

enum class MaterialKind { steel, magnet, other };
/// "steel", "magnet", "non-magnetic material".
std::string kind_text(MaterialKind kind);

/// Reads a material when it is first asked for and keeps it. Upper and lower case of a name are the
/// same. Not to be shared between threads while materials are still being looked up.
///
/// A folder of one's own has sub-folders steels/, magnets/, others/ and curves/ like this one; its
/// materials take precedence over built-in ones of the same name. The names "air" and "ideal iron"
/// are taken by the gear itself and cannot be used.
class Catalogue {
 public:
  Catalogue();
  /// Throws InputError if the folder cannot be read or holds a reserved name.
  explicit Catalogue(const std::filesystem::path& own_folder);

  std::vector<std::string> names(MaterialKind kind) const;  ///< sorted
  std::optional<MaterialKind> kind_of(std::string_view name) const;
  /// Why there is no such steel, magnet or other material of that name, with the nearest names;
  /// nothing if there is one.
  std::optional<std::string> why_not(MaterialKind kind, std::string_view name) const;

  // Throw InputError if there is none (the text of why_not) or its file is wrong.
  const Steel& steel(std::string_view name) const;
  const MagnetMaterial& magnet(std::string_view name) const;
  const OtherMaterial& other(std::string_view name) const;

  /// Curves of the catalogue for read_steel.
  CurveLookup curve_lookup() const;
  std::vector<std::string> curve_names() const;
  const BhCurve& curve(std::string_view name) const;

  /// Everything the files say, by which a changed material is noticed.
  std::string contents() const;

  /// A material given inline in a case, named for reports. Complaints go to the reader's log.
  Steel inline_steel(TableReader& table, const std::string& name) const;

 private:
  struct Source {
    std::string name;            // with its own upper and lower case
    std::string file;            // as it stands in messages
    std::string_view text;       // of a built-in one
    std::filesystem::path path;  // of one's own
  };
  using Folder = std::map<std::string, Source>;  // by name in small letters
  void add_own(const std::filesystem::path& folder, const char* kind);
  template <class Material, class Read>
  const Material& loaded(std::map<std::string, Material>& kept, const char* folder,
                         std::string_view name, const std::string& fault, Read read) const;
  std::vector<std::string> names_in(const char* folder) const;

  std::map<std::string, Folder, std::less<>> folders_;
  mutable std::map<std::string, BhCurve> curves_;
  mutable std::map<std::string, Steel> steels_;
  mutable std::map<std::string, MagnetMaterial> magnets_;
  mutable std::map<std::string, OtherMaterial> others_;
};

}  // namespace lodegear
