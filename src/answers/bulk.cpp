#include "mendworth/bulk.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>
#include <memory>
#include <set>
#include <stdexcept>

#include "answers/bulk_scenario.hpp"
#include "answers/bulk_turns.hpp"
#include "answers/bulk_wants.hpp"
#include "base/plain_number.hpp"
#include "mendworth/case.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"

namespace mendworth {
namespace {

bool is_referred(const Case& c, const RateBook& rates) {
  return std::any_of(c.device.hazards.begin(), c.device.hazards.end(), [&](const std::string& hazard) {
    const auto known = rates.hazards.find(hazard);
    return known != rates.hazards.end() && known->second.licensed_only;
  });
}

void add_notes(BulkAnswer& answer, const Case& c, bool referred) {
  if (referred) {
    answer.notes.emplace_back(
        "Work on this device is for licensed people or a qualified place: nothing is said here of doing it.");
  }
  if (c.bulk->devices) {
    answer.notes.emplace_back(
        "All devices are taken to be like that of the case: same age, same use. What fails again in its turn "
        "is in "
        "the policies, but not in the pieces to buy.");
    if (c.fault.cause != Cause::wear) {
      answer.notes.emplace_back(
          "The failures are not from wear: they say nothing of the other devices' lives, and the survivors' "
          "chances "
          "rest on the rates and on their having survived.");
    }
  }
  answer.notes.emplace_back(
      "Pieces that are dead on arrival or do not fit are not counted here: try one before buying many.");
  for (const Part& part : c.parts) {
    if (c.bulk->years && *c.bulk->years > part.shelf_life_years.base()) {
      answer.notes.push_back(
          fmt::format("'{}' keeps {} years: a single purchase is judged until then, not for {} years.",
                      part.name, number_text(part.shelf_life_years.base()), number_text(*c.bulk->years)));
    }
  }
}

}  // namespace

BulkAnswer bulk_what_if(const Case& c, const RateBook& rates, const BulkSettings& settings) {
  mendworth::check(c);
  if (settings.futures < 16 || settings.policy_futures < 16)
    throw std::invalid_argument("a fleet wants at least 16 futures");
  const auto wants = wants_of(c, settings);
  const Bulk& bulk = *c.bulk;
  BulkAnswer answer;
  answer.source_name = c.source_name;
  answer.device = c.device.name;
  answer.currency = c.device.currency;
  answer.minor_digits = c.device.minor_digits;
  answer.cover = bulk.cover;
  answer.until = settings.until.value_or(0.0);
  answer.order_cost = bulk.order_cost;
  answer.carrying_rate = bulk.carrying_rate;
  const bool referred = is_referred(c, rates);
  for (const auto& each : wants) {
    answer.scenarios.push_back(scenario_of(c, settings, *each, !referred));
    if (settings.turns) add_turns(answer.scenarios.back(), c, settings, *each);
  }
  add_notes(answer, c, referred);
  for (const DefaultUse& used : c.defaults) {
    const bool bears = used.key.starts_with("bulk.") || used.key.starts_with("part.") ||
                       used.key.starts_with("supplier.") || used.key.starts_with("downtime.") ||
                       used.key.starts_with("horizon.");
    if (bears) answer.defaults.push_back({used.key, used.value, used.source});
  }
  return answer;
}

}  // namespace mendworth
