// tools/materials_command.cpp — `lodegear materials`: what is known by name.
// SPDX-License-Identifier: GPL-3.0-or-later
#include <filesystem>
#include <iostream>
#include <memory>

#include "cases/text_table.h"
#include "materials/catalogue.h"
#include "materials/nearest_name.h"
#include "materials/words.h"
#include "tools/case_options.h"
#include "tools/commands.h"
#include "tools/exit_codes.h"
#include "tools/material_sheets.h"

namespace lodegear {

namespace {

struct MaterialsRequest {
  std::string name;
  std::filesystem::path folder;
};

constexpr const char* help =
    R"(Without a name: all magnets, steels and other materials with their main figures, how sure these are
(confidence, 0 to 1) and where they are from. With a name: everything that is known of it. Upper and
lower case are the same.

Examples:
  lodegear materials
  lodegear materials N42SH)";

constexpr MaterialKind kinds[] = {MaterialKind::magnet, MaterialKind::steel, MaterialKind::other};

const char* heading(MaterialKind kind) {
  switch (kind) {
    case MaterialKind::magnet:
      return "Magnets, remanence and intrinsic coercivity at 20 °C";
    case MaterialKind::steel:
      return "Steels and other soft magnetic materials";
    default:
      return "Non-magnetic materials";
  }
}

void print_list(const Catalogue& catalogue) {
  for (const MaterialKind kind : kinds) {
    std::vector<std::vector<std::string>> rows = {{"name", "main figures", "conf.", "source"}};
    for (const std::string& name : catalogue.names(kind))
      rows.push_back(material_row(catalogue, kind, name));
    std::cout << heading(kind) << "\n" << text_table(rows, 2, false) << "\n";
  }
  std::cout << "conf.: how sure the figures are, 0 to 1. 'lodegear materials NAME' shows all of "
               "one. A case may also give its own under "
               "[materials].\n";
}

int run(const MaterialsRequest& request) {
  const Catalogue catalogue = catalogue_with(request.folder);
  if (request.name.empty()) {
    print_list(catalogue);
    return exit_good;
  }
  if (const auto kind = catalogue.kind_of(request.name)) {
    std::cout << material_sheet(catalogue, *kind, request.name);
    return exit_good;
  }
  std::vector<std::string> all;
  for (const MaterialKind kind : kinds)
    for (const std::string& name : catalogue.names(kind)) all.push_back(name);
  const std::vector<std::string> near = nearest_names(request.name, all, 3);
  throw InputError("There is no material " + in_quotes(request.name) + "." +
                   (near.empty() ? std::string() : " Did you mean " + listed(near, " or ") + "?"));
}

}  // namespace

Command add_materials(CLI::App& app) {
  const auto request = std::make_shared<MaterialsRequest>();
  CLI::App* materials = app.add_subcommand("materials", "Magnets, steels and others known by name");
  materials->footer(help);
  materials->add_option("name", request->name, "Show this one")->type_name("NAME");
  materials->add_option("--materials", request->folder, "Folder with materials of your own as well")
      ->type_name("DIR");
  return [request] { return run(*request); };
}

}  // namespace lodegear
