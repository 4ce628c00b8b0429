#pragma once

#include <doctest/doctest.h>

#include <string>

#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/read_case.hpp"

/// Cases as text, read with the built-in rates.
namespace mendworth::test {

inline Case read(const std::string& text) { return read_case(text, "case.toml", built_in_rates()); }

inline const DefaultUse* find_default(const Case& c, const std::string& key) {
  for (const DefaultUse& use : c.defaults) {
    if (use.key == key) return &use;
  }
  return nullptr;
}

inline std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const std::size_t at = text.find(from);
  REQUIRE_MESSAGE(at != std::string::npos, from);
  return text.replace(at, from.size(), to);
}

/// The starter, its minutes left to the rates.
inline std::string starter_without_minutes() {
  return replaced(replaced(starter_case(false), "\ncase_minutes", "\n# case_minutes"), "\nvisit_minutes",
                  "\n# visit_minutes");
}

inline std::string messages(const std::string& text) {
  try {
    static_cast<void>(read(text));
  } catch (const InputError& error) {
    return error.what();
  }
  return "";
}

}  // namespace mendworth::test
