// cases/resolve_materials.cpp — looking up grades, inline materials first.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/resolve_materials.h"

#include "cases/key_place.h"
#include "materials/words.h"

namespace lodegear {

namespace {

struct InlineMaterials {
  std::map<std::string, Steel> steels;
  std::map<std::string, MagnetMaterial> magnets;
  std::map<std::string, OtherMaterial> others;

  std::optional<MaterialKind> kind_of(const std::string& name) const {
    if (steels.count(name)) return MaterialKind::steel;
    if (magnets.count(name)) return MaterialKind::magnet;
    if (others.count(name)) return MaterialKind::other;
    return std::nullopt;
  }
};

void read_inline(TableReader& table, const std::string& name, const Catalogue& catalogue,
                 InlineMaterials& into) {
  const auto kind = table.choice<MaterialKind>("kind", {{"steel", MaterialKind::steel},
                                                        {"magnet", MaterialKind::magnet},
                                                        {"other", MaterialKind::other}});
  if (name == air_name || name == ideal_iron_name)
    table.complain("", "\"" + name + "\" is a name with a meaning of its own; choose another.");
  if (!table.has("kind")) return;
  if (kind == MaterialKind::steel) into.steels[name] = catalogue.inline_steel(table, name);
  if (kind == MaterialKind::magnet)
    into.magnets[name] = read_magnet(table, name, MaterialPlace::inline_table);
  if (kind == MaterialKind::other)
    into.others[name] = read_other(table, name, MaterialPlace::inline_table);
}

InlineMaterials read_inline_materials(TableReader& root, const TomlDocument& document,
                                      const Catalogue& catalogue) {
  InlineMaterials all;
  std::optional<TableReader> table = root.optional_table("materials");
  if (!table) return all;
  for (const TomlEntry& entry : document.root.entry("materials")->value.entries)
    if (auto material = table->optional_table(entry.key))
      read_inline(*material, entry.key, catalogue, all);
  table->finish();
  return all;
}

/// Looks up one name after another and notes what cannot be found.
class Resolver {
 public:
  Resolver(const InlineMaterials& own, const Catalogue& catalogue, const TomlDocument& document,
           ReadLog& log, Case& into)
      : own_(own), catalogue_(catalogue), document_(document), log_(log), case_(into) {}

  /// Puts the label in place of the name.
  /// `remanence`: part of the grade's.
  void magnet(std::string& name, const std::string& key, double temperature, double remanence) {
    const MagnetMaterial* found =
        lookup<MagnetMaterial>(name, key, MaterialKind::magnet, own_.magnets,
                               [&]() -> const MagnetMaterial& { return catalogue_.magnet(name); });
    if (!found) return;
    std::string label = found->name + " at " + number_text(temperature) + " °C";
    if (remanence != 1.0) label += ", " + number_text(100 * remanence) + " % of its remanence";
    MagnetInUse& magnet = case_.magnets[label] = {found->name, *found, temperature};
    magnet.material.remanence_min *= remanence;
    magnet.material.remanence_max *= remanence;
    name = label;
  }

  /// `stacking_factor`: what the file gives; `assumed_key`: under which the material's own is
  /// noted, empty = a solid part.
  double steel(std::string& name, const std::string& key, std::optional<double> stacking_factor,
               const std::string& assumed_key) {
    if (name == ideal_iron_name) return 1.0;
    const Steel* found = lookup<Steel>(name, key, MaterialKind::steel, own_.steels,
                                       [&]() -> const Steel& { return catalogue_.steel(name); });
    if (!found) return 1.0;
    double f = stacking_factor.value_or(1.0);
    if (!stacking_factor && !assumed_key.empty()) {
      f = found->stacking_factor;
      log_.assumed.push_back({assumed_key, number_text(f)});
    }
    const std::string label = f < 1.0 ? found->name + ", stacked " + number_text(f) : found->name;
    case_.steels[label] = {found->name, *found, f};
    name = label;
    return f;
  }

  void other(std::string& name, const std::string& key) {
    if (name == air_name) return;
    const OtherMaterial* found =
        lookup<OtherMaterial>(name, key, MaterialKind::other, own_.others,
                              [&]() -> const OtherMaterial& { return catalogue_.other(name); });
    if (!found) return;
    case_.others[found->name] = *found;
    name = found->name;
  }

  /// A part that the field does not see.
  void carrier(const std::string& name, const std::string& key, OtherMaterial& into) {
    const OtherMaterial* found =
        lookup<OtherMaterial>(name, key, MaterialKind::other, own_.others,
                              [&]() -> const OtherMaterial& { return catalogue_.other(name); });
    if (found) into = *found;
  }

 private:
  void complain(const std::string& key, const std::string& text) {
    log_.complaints.push_back({key_place(document_, key), key, text});
  }

  /// The material of that name, or null after a complaint.
  template <class Material, class FromCatalogue>
  const Material* lookup(const std::string& name, const std::string& key, MaterialKind kind,
                         const std::map<std::string, Material>& own, FromCatalogue from_catalogue) {
    if (name.empty()) return nullptr;  // complained about already
    if (const auto found = own.find(name); found != own.end()) return &found->second;
    if (const auto other_kind = own_.kind_of(name)) {
      complain(key, in_quotes(name) + " is a " + kind_text(*other_kind) + " in [materials]; a " +
                        kind_text(kind) + " is wanted here.");
      return nullptr;
    }
    if (const auto why = catalogue_.why_not(kind, name)) {
      complain(key, *why);
      return nullptr;
    }
    try {
      return &from_catalogue();
    } catch (const InputError& error) {
      const auto& more = error.complaints();
      log_.complaints.insert(log_.complaints.end(), more.begin(), more.end());
      return nullptr;
    }
  }

  const InlineMaterials& own_;
  const Catalogue& catalogue_;
  const TomlDocument& document_;
  ReadLog& log_;
  Case& case_;
};

void resolve_rotor(Resolver& resolve, MagnetRotor& rotor, const std::string& member,
                   double temperature, double remanence) {
  resolve.magnet(rotor.magnet, member + ".magnets.grade", temperature, remanence);
  if (auto* spokes = std::get_if<SpokeMagnets>(&rotor.shape))
    resolve.steel(spokes->wedge_steel, member + ".magnets.wedge_material", std::nullopt, {});
  const std::string iron = member == "sun" ? "sun.hub.material" : "ring.back_iron.material";
  if (rotor.iron) resolve.steel(rotor.iron->material, iron, std::nullopt, {});
}

/// Grain-oriented pole pieces must say how their sheets lie; others cannot.
void check_rolling_direction(const TomlDocument& document, ReadLog& log, const Case& c) {
  if (!c.gear.modulator) return;
  const auto steel = c.steels.find(c.gear.modulator->material);
  if (steel == c.steels.end()) return;
  const std::string key = "modulator.rolling_direction", &grade = steel->second.grade;
  if (steel->second.material.grain_oriented && !c.rolling_direction)
    log.complaints.push_back(
        {key_place(document, key), key,
         "is missing; " + grade +
             " is grain-oriented sheet: say how it lies in each pole piece, \"radial\", "
             "\"tangential\" or \"mixed\"."});
  if (!steel->second.material.grain_oriented && c.rolling_direction)
    log.complaints.push_back(
        {key_place(document, key), key,
         "has no meaning for " + grade + ", which is not grain-oriented sheet; leave it out."});
}

}  // namespace

void resolve_materials(TableReader& root, const TomlDocument& document, const GearInFile& in_file,
                       const Catalogue& catalogue, ReadLog& log, Case& into) {
  const InlineMaterials own = read_inline_materials(root, document, catalogue);
  Resolver resolve(own, catalogue, document, log, into);
  Gear& gear = into.gear;
  if (gear.sun)
    resolve_rotor(resolve, *gear.sun, "sun", in_file.sun_temperature, in_file.sun_remanence);
  if (gear.modulator)
    gear.modulator->stacking_factor =
        resolve.steel(gear.modulator->material, "modulator.material", in_file.stacking_factor,
                      "modulator.stacking_factor");
  check_rolling_direction(document, log, into);
  Build& build = into.service.build;
  for (std::size_t m = 0; m < 3; ++m)
    resolve.carrier(build.carrier_names[m],
                    std::string("build.") + name_of(static_cast<Member>(m)) + "_carrier",
                    build.carriers[m]);
  if (gear.ring)
    resolve_rotor(resolve, *gear.ring, "ring", in_file.ring_temperature, in_file.ring_remanence);
  for (std::size_t i = 0; i < gear.sleeves.size(); ++i)
    resolve.other(gear.sleeves[i].material, "sleeve[" + std::to_string(i + 1) + "].material");
}

}  // namespace lodegear
