// tests/cases/studies/read_study_test.cpp — the study file: every key, and every slip of the pen.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "cases/studies/read_study.h"

#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>
#include <regex>
#include <set>

#include "cases/studies/design_figures.h"
#include "materials/constants.h"

using namespace lodegear;
using Catch::Contains;

namespace {

// These use every key between them.
constexpr const char* drawn = R"(case = "case.toml"
name = "drawn"
how = "latin hypercube"
designs = 40
seed = 3
figures = ["slip_torque_modulator_Nm", "inner_clearance_mm"]
level = 0.5
designs_per_block = 8
[[vary]]
key = "sun.magnets.thickness_mm"
from = 4
to = 6
step = 0.5
moves_along = ["sun.magnets.seat_radius_mm"]
[[vary]]
key = "gear.magnet_temperature_C"
plus_minus = 20
[[vary]]
key = "sun.magnets.remanence_percent"
standard_deviation = 2
about = 99
[[vary]]
key = "sun.magnets.grade"
values = ["N42", "N45"]
[[magnets]]
member = "ring"
strength_deviation_percent = 2
turned_deviation_deg = 1.5
weak_chance_percent = 3
weak_strength_percent = 70
reversed_chance_percent = 0.5
[best]
maximise = "slip_torque_modulator_Nm"
[[best.limit]]
figure = "inner_clearance_mm"
at_least = 0.5
at_most = 2
)";
constexpr const char* listed_one = R"(case = "case.toml"
how = "list"
accuracy_percent = 0.5
[[vary]]
key = "sun.magnets.thickness_mm"
values = [4, 5]
[best]
minimise = "magnet_mass_kg"
)";

std::string complaints(const std::string& text) {
  try {
    read_study_text(text, "s.toml");
    return "none";
  } catch (const InputError& error) {
    std::string all;
    for (const Complaint& c : error.complaints()) all += to_string(c) + "\n";
    return all;
  }
}

std::string with(const std::string& more, const std::string& head = "designs = 4\n") {
  return "case = \"c.toml\"\n" + head + "[[vary]]\nkey = \"a.b\"\n" + more;
}

void collect_keys(const TomlValue& value, std::set<std::string>& keys) {
  for (const TomlValue& item : value.items) collect_keys(item, keys);
  for (const TomlEntry& entry : value.entries) {
    const auto& items = entry.value.items;
    const bool tables = entry.value.kind == TomlKind::table ||
                        (!items.empty() && items.front().kind == TomlKind::table);
    if (!tables) keys.insert(entry.key);
    collect_keys(entry.value, keys);
  }
}

}  // namespace

TEST_CASE("study file: what is documented is accepted, and nothing else", "[cases][studies]") {
  std::set<std::string> used, documented;
  for (const char* text : {drawn, listed_one}) {
    CHECK(complaints(text) == "none");
    collect_keys(toml_document(text, "s").root, used);
  }
  std::ifstream file(LODEGEAR_SOURCE_DIR "/cases/studies/study.h");
  const std::string header{std::istreambuf_iterator<char>(file), {}};
  const std::regex listed("\n//   ([a-z_]+(?:, [a-z_]+)*)(?=  |\n)"), word("[a-z_]+");
  for (std::sregex_iterator it(header.begin(), header.end(), listed), end; it != end; ++it) {
    const std::string list = (*it)[1];
    for (std::sregex_iterator w(list.begin(), list.end(), word); w != end; ++w)
      documented.insert(w->str());
  }
  CHECK(used == documented);
}

TEST_CASE("study file: the names of figures are those the header lists", "[cases][studies]") {
  std::ifstream file(LODEGEAR_SOURCE_DIR "/cases/studies/design_figures.h");
  const std::string header{std::istreambuf_iterator<char>(file), {}};
  for (std::string name : design_figure_names()) {
    INFO(name);
    for (const char* member : {"_sun_", "_modulator_", "_ring_"})
      if (const auto at = name.find(member); at != std::string::npos)
        name.replace(at, std::string(member).size(), "_<member>_");
    CHECK_THAT(header, Contains(name));
  }
}

TEST_CASE("study file: numbers arrive in SI units and with their meaning", "[cases][studies]") {
  const Study study = read_study_text(drawn, "s.toml");
  CHECK(study.how == Sampling::latin_hypercube);
  CHECK(study.designs == 40);
  REQUIRE(study.vary.size() == 4);
  CHECK(*study.vary[0].step == 0.5);
  CHECK(study.vary[1].relative);
  CHECK(study.vary[1].from == -20.0);
  CHECK_FALSE(study.vary[2].relative);
  CHECK(study.vary[2].mean == 99.0);
  CHECK(study.vary[3].values.size() == 2);
  REQUIRE(study.lots.size() == 1);
  CHECK(study.lots[0].turned_deviation == Approx(1.5 * pi / 180));
  CHECK(study.lots[0].weak_strength == 0.7);
  CHECK(study.best->limits.front().at_most == 2.0);
  CHECK(read_study_text(listed_one, "x/y.toml").designs == 2);
  CHECK(read_study_text(listed_one, "x/y.toml").name == "y");
  CHECK(*read_study_text(listed_one, "s").accuracy == Approx(0.005));
}

TEST_CASE("study file: each mistake is told with its place and what would be right",
          "[cases][studies]") {
  CHECK_THAT(complaints("designs = 3"), Contains("case: is missing"));
  CHECK_THAT(complaints("[gear]\nsun_pole_pairs = 2\n"), Contains("is a case file"));
  CHECK_THAT(complaints("case = \"c.toml\"\ndesigns = 3"), Contains("nothing varies"));
  CHECK_THAT(complaints(with("values = []")),
             Contains("s.toml:5") && Contains("a list of numbers"));
  CHECK_THAT(complaints(with("from = 3\nto = 2")), Contains("not above from"));
  CHECK_THAT(complaints(with("from = 3")), Contains("vary[1].to: is missing"));
  CHECK_THAT(complaints(with("values = [1]\nto = 3")), Contains("belongs to from"));
  CHECK_THAT(complaints(with("values = [1]\nfrom = 1\nto = 3")), Contains("vary[1]"));
  CHECK_THAT(complaints(with("standard_deviation = 0")), Contains("above 0"));
  CHECK_THAT(complaints(with("values = [1]", "designs = 0\n")), Contains("designs"));
  CHECK_THAT(complaints(with("values = [1]", "designs = 3\nhow = \"grid\"\n")),
             Contains("leave it out"));
  CHECK_THAT(complaints(with("from = 1\nto = 2", "how = \"grid\"\n")), Contains("needs a step"));
  CHECK_THAT(complaints(with("from = 1\nto = 2\nstep = 1e-9", "how = \"grid\"\n")),
             Contains("more than 1000000"));
  CHECK_THAT(complaints(with("from = 1\nto = 2", "how = \"list\"\n")), Contains("one by one"));
  CHECK_THAT(
      complaints(with("values = [1]\n[[vary]]\nkey = \"c\"\nvalues = [1, 2]", "how = \"list\"\n")),
      Contains("as many of each"));
  CHECK_THAT(complaints(with("values = [1]\n[[vary]]\nkey = \"a.b\"\nvalues = [1, 2]")),
             Contains("varied already"));
  CHECK_THAT(complaints(with("values = [1]", "designs = 3\nhow = \"sobel\"\n")), Contains("sobol"));
  CHECK_THAT(
      complaints(with("values = [1]", "designs = 3\nfigures = [\"slip_torque_modular_Nm\"]\n")),
      Contains("Did you mean \"slip_torque_modulator_Nm\"?"));
  CHECK_THAT(complaints(with("values = [1]", "designs = 3\nlevel = 1\naccuracy_percent = 1\n")),
             Contains("either the accuracy"));
  CHECK_THAT(complaints(with("values = [1]\n[best]\n")), Contains("maximise"));
  CHECK_THAT(complaints(with("values = [1]\n[best]\nmaximise = \"magnet_mass_kg\"\n[[best.limit]]\n"
                             "figure = \"magnet_mass_kg\"")),
             Contains("at_least, at_most or both"));
  CHECK_THAT(complaints(with("values = [1]\n[[magnets]]\nmember = \"sun\"")),
             Contains("does not say how magnets differ"));
  CHECK_THAT(complaints(with("values = [1]\nvalue = 3")), Contains("value"));
  CHECK_THAT(complaints(with("values = [1]", "designs = 3\nseed = -1\n")), Contains("seed"));
  CHECK_THAT(complaints(with("values = [1]", "designs = 3\nseed = 1.5\n")), Contains("whole"));
}
