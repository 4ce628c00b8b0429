#include "lifetime/product_limit.hpp"

#include <algorithm>
#include <cmath>

namespace mendworth::lifetime {
namespace {

struct Exit {
  double age, pieces, failed;
};
struct Entry {
  double age, pieces;
};

// Limits symmetric in ln(-ln R).
void set_limits(SurvivalStep& step, double greenwood, double high_before, double normal) {
  if (!(step.working > 0)) {
    step.low = 0;
    step.high = high_before;
    return;
  }
  step.error = step.working * std::sqrt(greenwood);
  const double hazard = -std::log(step.working);
  if (!(hazard > 0)) return;
  const double reach = std::exp(normal * std::sqrt(greenwood) / hazard);
  step.low = std::exp(-hazard * reach);
  step.high = std::exp(-hazard / reach);
}

}  // namespace

SurvivalCurve product_limit(const std::vector<LifeRecord>& records, double normal) {
  std::vector<Exit> exits;
  std::vector<Entry> entries;
  exits.reserve(records.size());
  double at_risk = 0;
  std::size_t watched = 0;  // records at risk: when none is left, neither is a remainder of rounded weights
  for (const LifeRecord& record : records) {
    const double left = std::max(record.worked_at, record.first_seen);
    if (record.first_seen > 0 && left == record.first_seen) continue;  // not watched for any time
    exits.push_back({left, record.weight, record.working() ? 0 : record.weight});
    if (record.first_seen > 0) {
      entries.push_back({record.first_seen, record.weight});
    } else {
      at_risk += record.weight;
      ++watched;
    }
  }
  std::sort(exits.begin(), exits.end(), [](const Exit& a, const Exit& b) { return a.age < b.age; });
  std::sort(entries.begin(), entries.end(), [](const Entry& a, const Entry& b) { return a.age < b.age; });

  SurvivalCurve curve;
  double working = 1;
  double greenwood = 0;
  double high_before = 1;
  std::size_t entered = 0;
  for (std::size_t i = 0; i < exits.size() && working > 0;) {
    const double age = exits[i].age;
    for (; entered < entries.size() && entries[entered].age < age; ++entered, ++watched) {
      at_risk += entries[entered].pieces;
    }
    double failed = 0, leaving = 0;
    std::size_t records_leaving = 0;
    for (; i < exits.size() && exits[i].age == age; ++i, ++records_leaving) {
      failed += exits[i].failed;
      leaving += exits[i].pieces;
    }
    const bool last = records_leaving == watched;
    if (failed > 0) {
      SurvivalStep step;
      step.time = age;
      step.at_risk = last ? leaving : at_risk;
      step.failed = failed;
      working = step.failed < step.at_risk ? working * (1 - failed / step.at_risk) : 0;
      if (working > 0) greenwood += failed / (step.at_risk * (step.at_risk - failed));
      step.working = working;
      set_limits(step, greenwood, high_before, normal);
      high_before = step.high;
      curve.steps.push_back(step);
    }
    watched -= records_leaving;
    at_risk = watched == 0 ? 0 : at_risk - leaving;
  }
  return curve;
}

bool any_interval(const std::vector<LifeRecord>& records) {
  return std::any_of(records.begin(), records.end(),
                     [](const LifeRecord& record) { return !record.exact() && !record.working(); });
}

}  // namespace mendworth::lifetime
