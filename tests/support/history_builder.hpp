#pragma once

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

}  // namespace mendworth::test
