// tests/materials/toml_file_test.cpp — no text, however broken, does more than give a sentence.
// SPDX-License-Identifier: GPL-3.0-or-later
#include "materials/toml_file.h"

#include <unistd.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <random>

#include "tests/materials/materials_of_tests.h"

using namespace lodegear;
using Catch::Contains;
using Catch::StartsWith;

static TomlValue tree(const std::string& text) { return toml_document(text, "case.toml").root; }
static std::string complaint(const std::string& text) {
  return message_of([&] { toml_document(text, "case.toml"); });
}

TEST_CASE("toml file: values keep their kind and place", "[materials][toml]") {
  const TomlValue root = tree("a = 3\n# µ é\nb.c = [1.50, true]\n[t]\ns = \"Ω\"\nd = 1979-05-27\n");
  const TomlEntry& a = *root.entry("a");
  CHECK(a.value.kind == TomlKind::integer);
  CHECK(a.value.integer == 3);
  CHECK(a.at.line == 1);
  CHECK(a.value.at.column == 5);
  const TomlValue& list = root.entry("b")->value.entry("c")->value;
  CHECK(list.items.size() == 2);
  CHECK(list.items[0].text == "1.50");
  CHECK(list.items[0].real == 1.5);
  CHECK(list.items[1].boolean);
  CHECK(list.items[1].at.column == 14);
  CHECK(root.entry("t")->value.entry("s")->value.text == "Ω");
  CHECK(root.entry("t")->value.entry("d")->value.kind == TomlKind::date);
  CHECK(root.entry("nothing") == nullptr);
}

TEST_CASE("toml file: entries come in the order of the file", "[materials][toml]") {
  const TomlValue root = tree("z = 1\na = 2\n[y]\n[b]\n");
  std::string order;
  for (const TomlEntry& entry : root.entries) order += entry.key;
  CHECK(order == "zayb");
}

TEST_CASE("toml file: a number keeps its text although letters of two bytes stand before it",
          "[materials][toml]") {
  const TomlValue root = tree("t = { \"é\" = \"µµ\", x = 2.75e0 }\n");
  CHECK(root.entry("t")->value.entry("x")->value.text == "2.75e0");
}

TEST_CASE("toml file: broken text is told with its place and what would be right",
          "[materials][toml]") {
  struct Slip {
    const char* text;
    const char* place;
    const char* says;
  };
  const std::vector<Slip> slips{
      {"[= 1]", "case.toml:1:2: ", "not valid TOML"},
      {"[=x", "case.toml:1:2: ", "not valid TOML"},
      {"a = 1\na = 2\n", "case.toml:2:1: ", "'a' stands here a second time"},
      {"[s]\n  width_mm = 1\n  width_mm = \"\"\"\nx\n\"\"\"\n",
       "case.toml:3:3: ", "'width_mm' stands here a second time"},
      {"[a]\n[a]\n", "case.toml:2:1: ", "'a' stands here a second time"},
      {"a = 1\n[a]\n", "case.toml:2:1: ", "'a' stands here a second time"},
      {"a = 3,5\n", "case.toml:1:6: ", "3.5 and not 3,5"},
      {"a = 50 mm\n", "case.toml:1:8: ", "unit is in the key's name"},
      {"a = .5\n", "case.toml:1:5: ", "0.5 and not .5"},
      {"a = 5.\n", "case.toml:1:", "a digit after the dot"},
      {"a = True\n", "case.toml:1:5: ", "Write true, in small letters"},
      {"a = No\n", "case.toml:1:", "Write false, in small letters"},
      {"a = N42\n", "case.toml:1:", "Text stands in quotes"},
      {"a =\nb = 2\n", "case.toml:1:4: ", "has no value"},
      {"a: 3\n", "case.toml:1:2: ", "key = value"},
      {"= 1\n", "case.toml:1:1: ", "not valid TOML"},
      {"a = 1 b = 2\n", "case.toml:1:7: ", "not valid TOML"},
      {"a = \"x\n", "case.toml:1:", "not valid TOML"},
      {"a = \"\"\"x\n", "case.toml:1:", "the file ends before it is closed"},
      {"a = \"\\q\"\n", "case.toml:1:", "not valid TOML"},
      {"a = [1, 2\n", "case.toml:1:", "the file ends before it is closed"},
      {"a = {b = 1,}\n", "case.toml:1:", "not valid TOML"},
      {"a = 99999999999999999999\n", "case.toml:1:", "not representable"},
      {"a = 1e400\n", "case.toml:1:", "not valid TOML"},
      {"é = 1\n", "case.toml:1:1: ", "not valid TOML"},
      {"a.b = 1\na.b.c = 2\n", "case.toml:2:", "not valid TOML"},
      {"[[a]]\n[a]\n", "case.toml:2:1: ", "'a' stands here a second time"},
      {"a = \"\xC3\"\n", "case.toml:1:6: ", "not UTF-8"},
      {"\n  \xFF = 1\n", "case.toml:2:3: ", "not UTF-8"},
      {"\xFF\xFE\x61", "case.toml:1:1: ", "UTF-16"}};
  for (const Slip& slip : slips) {
    INFO(slip.text);
    CHECK_THAT(complaint(slip.text), StartsWith(slip.place) && Contains(slip.says));
  }
}

TEST_CASE("toml file: zero bytes, deep nesting and huge texts are refused", "[materials][toml]") {
  CHECK_THAT(complaint(std::string("a = 1\0\n", 7)), Contains("zero byte"));
  const int deep = 100000;
  CHECK_FALSE(complaint("a = " + std::string(deep, '[')).empty());
  std::string dotted = "a";
  for (int i = 0; i < deep; ++i) dotted += ".a";
  CHECK_THAT(complaint(dotted + " = 1"), Contains("more than 100 words joined by dots"));
  CHECK_THAT(complaint("[" + dotted + "]"), Contains("more than 100 words joined by dots"));
  std::string tables;
  for (int i = 0; i < deep; ++i) tables += "{a=";
  CHECK_FALSE(complaint("a = " + tables).empty());
  CHECK_THAT(complaint(std::string(5u << 20, '#')), Contains("larger than 4 MB"));
}

TEST_CASE("toml file: sentences in comments and strings are no dotted keys", "[materials][toml]") {
  std::string sentence;
  for (int i = 0; i < 90; ++i) sentence += "One. Two, ";
  CHECK(complaint("# " + sentence + "\na = \"" + sentence + "\"\n").empty());
}

TEST_CASE("toml file: numbers the format allows but no one means are kept for the reader",
          "[materials][toml]") {
  CHECK(std::isnan(tree("a = nan").entry("a")->value.real));
  CHECK(std::isinf(tree("a = -inf").entry("a")->value.real));
  CHECK(tree("a = 1e-400").entry("a")->value.text == "1e-400");
}

TEST_CASE("toml file: letters beyond ASCII, a byte order mark and CRLF are fine",
          "[materials][toml]") {
  CHECK(complaint("# \u00B5 \u03A9 \u4E2D \U0001F600\na = \"\u00E9\u00A0\u0499\"\n").empty());
  CHECK(tree("\xEF\xBB\xBF"
             "a = 1\r\nb = 2.5\r\n")
            .entry("b")
            ->value.text == "2.5");
}

namespace {

/// A folder of its own that is removed again.
struct TemporaryFolder {
  std::filesystem::path path =
      std::filesystem::temp_directory_path() / ("lodegear-toml-" + std::to_string(::getpid()));
  TemporaryFolder() { std::filesystem::create_directories(path); }
  ~TemporaryFolder() {
    std::error_code ignored;
    std::filesystem::remove_all(path, ignored);
  }
  std::filesystem::path with(const std::string& name, const std::string& text) const {
    std::ofstream(path / name, std::ios::binary) << text;
    return path / name;
  }
};

}  // namespace

TEST_CASE("toml file: what cannot be read as a file is told in a sentence", "[materials][toml]") {
  const TemporaryFolder folder;
  const auto complaint_of = [](const std::filesystem::path& path) {
    return message_of([&] { read_toml_file(path); });
  };
  CHECK_THAT(complaint_of(folder.path / "none.toml"), Contains("no such file"));
  CHECK_THAT(complaint_of(""), Contains("no such file"));
  CHECK_THAT(complaint_of(folder.path), Contains("this is a folder"));
  CHECK_THAT(complaint_of("/dev/null"), Contains("not a regular file"));
  CHECK_THAT(complaint_of(folder.with("empty.toml", "")), Contains("the file is empty"));
  CHECK_THAT(complaint_of(folder.with("blank.toml", " \n\n")), Contains("the file is empty"));
  CHECK_THAT(complaint_of(folder.with("bad.toml", "a = 1\nb = ,\n")), Contains("bad.toml:2:5"));
  CHECK(complaint_of(folder.with("good.toml", "a = 1\n")).empty());
  CHECK_THAT(complaint_of(folder.path / "good.toml" / "x.toml"),
             Contains("cannot be read") || Contains("no such file"));
  if (::geteuid() != 0) {  // root may read everything
    const auto secret = folder.with("secret.toml", "a = 1\n");
    std::filesystem::permissions(secret, std::filesystem::perms::none);
    CHECK_THAT(complaint_of(secret), Contains("permissions"));
  }
}

TEST_CASE("toml file: thousands of mutated texts give a tree or a complaint", "[materials][toml]") {
  const std::string good =
      "# µ\n[sun]\npole_pairs = 4 # a comment\nwidth_mm = 12.5\nlist = [[1, 2.0], [3e2, -4]]\n"
      "name = \"N42\"\n[[odd]]\nindex = 3\ninline = { a = true, 'b c' = 1979-05-27T07:32:00Z }\n"
      "text = \"\"\"\nlines\\u00e9\n\"\"\"\nraw = 'C:\\x'\na.b.c = 0x1F\n";
  const std::string spice = "[]{}=.,#\"'\\\n\r\t -+_eE0xinfa\xC3\xA9\xFF";
  std::mt19937 random(20240229);  // fixed seed
  const auto below = [&](std::size_t n) { return static_cast<std::size_t>(random()) % n; };
  int trees = 0, complaints = 0;
  for (int trial = 0; trial < 6000; ++trial) {
    std::string text = trial % 4 == 0 ? std::string() : good;
    const std::size_t changes = trial % 4 == 0 ? below(40) : 1 + below(6);
    for (std::size_t i = 0; i < changes; ++i) {
      const char letter = below(3) ? spice[below(spice.size())] : static_cast<char>(random());
      const std::size_t at = below(text.size() + 1);
      if (trial % 4 == 0 || at == text.size() || below(2))
        text.insert(at, 1, letter);
      else if (below(2))
        text[at] = letter;
      else
        text.erase(at, below(12));
    }
    try {
      toml_document(text, "mutated.toml");
      ++trees;
    } catch (const InputError& error) {
      REQUIRE_THAT(error.what(), StartsWith("mutated.toml:"));
      ++complaints;
    }
  }
  CHECK(trees > 100);  // both ways must have been taken
  CHECK(complaints > 1000);
}
