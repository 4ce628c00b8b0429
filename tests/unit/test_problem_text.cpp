#include <doctest/doctest.h>

#include <sstream>
#include <string>
#include <vector>

#include "cli/problem_text.hpp"
#include "cli/surroundings.hpp"
#include "render/layout.hpp"

using namespace mendworth;
using namespace mendworth::cli;

namespace {

std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

/// A message as it was before it was broken into lines.
std::string joined(const std::string& text) {
  std::string out;
  for (const std::string& line : lines_of(text))
    out += out.empty() ? line : " " + line.substr(line.find_first_not_of(' '));
  return out;
}

}  // namespace

TEST_CASE("a message keeps to the width, its words and what is copied from it") {
  const std::string message =
      "mendworth: --show knows no section 'hazard' (did you mean 'hazards'?); the device's names are "
      "'button 6 x 6, 9.5 mm', 'all', and what 'mendworth new --every-key' shows (as 'a b c') or doesn't; a "
      "range is "
      "{ low = 3, likely = 4, high = 8 }, not { 3, 8 }";
  for (int columns = 60; columns <= 120; ++columns) {
    CAPTURE(columns);
    const std::string text = message_text(message, columns);
    CHECK(joined(text) == message);
    const std::vector<std::string> lines = lines_of(text);
    CHECK(lines.size() >= 2);
    for (std::size_t i = 0; i < lines.size(); ++i) {
      CHECK(display_width(lines[i]) <= columns);
      CHECK(lines[i].starts_with(i == 0 ? "mendworth: " : "  "));
    }
    for (const char* copied : {"'button 6 x 6, 9.5 mm'", "'mendworth new --every-key'", "'a b c'",
                               "{ low = 3, likely = 4, high = 8 }", "{ 3, 8 }"})
      CHECK(text.find(copied) != std::string::npos);
  }
}

TEST_CASE("a path that is longer than a line is not cut") {
  const std::string path = std::string(90, 'd') + "/case.toml";
  const std::string text = message_text(path + ":3:1: error: device.age: unknown key (write age_years)", 60);
  CHECK(text.starts_with(path + ":3:1:\n  error: "));
}

TEST_CASE("the line of the file stands below its message as it is, at every width") {
  const std::string line = "age = 6                    # not broken at any width";
  const Diagnostic problem{"c.toml", 2, 1, "device.age", "unknown key", "write age_years", line};
  for (const int columns : {60, 80, 120}) {
    const std::string text = problems_text({problem}, columns);
    CHECK(text.find("\n    " + line + "\n    ^\n") != std::string::npos);
    Diagnostic far = problem;
    far.excerpt = std::string(150, 'a') + "B" + std::string(150, 'c');
    far.column = 151;
    const std::vector<std::string> lines = lines_of(problems_text({far}, columns));
    CHECK(display_width(lines.at(lines.size() - 2)) == columns);
    CHECK(lines.at(lines.size() - 2).find('B') == lines.back().find('^'));
  }
}

TEST_CASE("messages are as wide as their own terminal") {
  Surroundings surroundings;
  surroundings.out_columns = 200;
  CHECK(message_columns(surroundings) == 80);
  surroundings.err_columns = 40;
  CHECK(message_columns(surroundings) == 60);
  surroundings.err_columns = 500;
  CHECK(message_columns(surroundings) == 120);
  CHECK(text_columns(surroundings) == 120);
}
