#pragma once

#include <cstddef>
#include <iterator>
#include <utility>
#include <vector>

#include "mendworth/lifetime.hpp"

/// Histories for tests, put together in code.
namespace mendworth::test {

inline LifeRecord failed_at(double age, double pieces = 1, double first_seen = 0) {
  return {age, age, first_seen, pieces};
}
inline LifeRecord working_at(double age, double pieces = 1, double first_seen = 0) {
  return {age, still_working, first_seen, pieces};
}
inline LifeRecord failed_between(double worked_at, double failed_by, double pieces = 1,
                                 double first_seen = 0) {
  return {worked_at, failed_by, first_seen, pieces};
}

inline History history_of(std::vector<LifeRecord> records) {
  History history;
  history.source_name = "lives.csv";
  history.groups.push_back({"", std::move(records)});
  return history;
}

/// All that is said of one group of records.
inline GroupLifetime lifetime_of_group(std::vector<LifeRecord> records,
                                       const LifetimeSettings& settings = {}) {
  return lifetime_of(history_of(std::move(records)), settings).groups.at(0);
}

/// Wheels looked at once: working, or cracked at some time before. Published: R package survival 3.5-3, data set turbine
/// (W. Nelson, Applied Life Data Analysis, 1982).
inline std::vector<LifeRecord> turbine_wheels() {
  constexpr double hours[] = {4, 10, 14, 18, 22, 26, 30, 34, 38, 42, 46};
  constexpr double looked_at[] = {39, 53, 33, 73, 30, 39, 42, 13, 34, 40, 36};
  constexpr double cracked[] = {0, 4, 2, 7, 5, 9, 9, 6, 22, 21, 21};
  std::vector<LifeRecord> records;
  for (std::size_t i = 0; i < std::size(hours); ++i) {
    if (cracked[i] > 0) records.push_back(failed_between(0, hours[i], cracked[i]));
    records.push_back(working_at(hours[i], looked_at[i] - cracked[i]));
  }
  return records;
}

}  // namespace mendworth::test
