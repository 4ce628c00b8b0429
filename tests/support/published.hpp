#pragma once

#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>
#include <limits>
#include <string>

#include "support/near.hpp"

/// Comparisons with published values: those of near.hpp, which also note what they compare where MENDWORTH_CHECKS names a
/// file for it. tests/published/checks.py makes the table of all of them.
namespace mendworth::test::published {

/// A line of "suite TAB file TAB line of the test case TAB test case TAB ours TAB published TAB allowed difference".
inline void note(double ours, double published, double allowed) {
  static std::ofstream file = [] {
    const char* path = std::getenv("MENDWORTH_CHECKS");
    return path != nullptr ? std::ofstream(path, std::ios::app) : std::ofstream();
  }();
  if (!file.is_open()) return;
  file.precision(std::numeric_limits<double>::max_digits10);
  const doctest::TestCaseData& at = *doctest::getContextOptions()->currentTest;
  file << at.m_test_suite << '\t' << at.m_file.c_str() << '\t' << at.m_line << '\t' << at.m_name << '\t'
       << ours << '\t' << published << '\t' << allowed << '\n';
}

/// |ours - published| <= tolerance
inline bool near_abs(double ours, double published, double tolerance) {
  note(ours, published, tolerance);
  return test::near_abs(ours, published, tolerance);
}

/// |ours - published| <= tolerance x the larger of both
inline bool near_rel(double ours, double published, double tolerance) {
  note(ours, published, tolerance * std::max(std::abs(ours), std::abs(published)));
  return test::near_rel(ours, published, tolerance);
}

}  // namespace mendworth::test::published
