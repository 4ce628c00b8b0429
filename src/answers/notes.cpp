#include "answers/notes.hpp"

#include <fmt/core.h>

#include <algorithm>
#include <cmath>

#include "answers/labels.hpp"
#include "base/plain_number.hpp"
#include "domain/inputs.hpp"

namespace mendworth {

std::vector<Weighing::Caution> cautions_of(const Case& c, const RateBook& rates) {
  std::vector<Weighing::Caution> cautions;
  for (const auto& name : c.device.hazards) {
    const auto found = rates.hazards.find(name);
    if (found == rates.hazards.end()) continue;
    cautions.push_back({.hazard = name,
                        .title = found->second.title,
                        .licensed_only = found->second.licensed_only,
                        .sentences = found->second.cautions});
  }
  return cautions;
}

void add_defaults(Weighing& w, const Case& c) {
  for (const auto& used : c.defaults) {
    Weighing::DefaultRow row{.key = used.key, .value = used.value, .source = used.source};
    for (const auto& sensitivity : w.sensitivity) {
      if (sensitivity.key != used.key) continue;
      row.decided =
          sensitivity.turns || (w.verdict.saving && sensitivity.swing > std::abs(*w.verdict.saving));
    }
    w.defaults.push_back(std::move(row));
  }
}

namespace {

/// The key behind a life: that of the part for a candidate of which nothing else is said.
std::string key_of_life(const Case& c, const std::string& key) {
  for (std::size_t p = 0; p < c.parts.size(); ++p) {
    for (std::size_t k = 0; k < c.parts[p].candidates.size(); ++k) {
      if (!c.parts[p].candidates[k].inherits_life) continue;
      for (const char* const of_life : {"rated_life", "shape"}) {
        if (key == fmt::format("part.{}.candidate.{}.{}", p + 1, k + 1, of_life))
          return fmt::format("part.{}.{}", p + 1, of_life);
      }
    }
  }
  return key;
}

}  // namespace

void add_inputs(Weighing& w, const Case& c) {
  const auto default_of = [&c](const std::string& key) {
    return std::find_if(c.defaults.begin(), c.defaults.end(),
                        [&](const DefaultUse& use) { return use.key == key; });
  };
  for_each_quantity(c, [&](const std::string& key, const Quantity& quantity) {
    if (is_idle(c, quantity)) return;
    Weighing::InputRow row{
        .key = key, .label = label_of(c, key), .value = number_text(quantity.base()), .source = "stated"};
    if (!quantity.is_fixed())
      row.value += fmt::format(" ({} to {})", number_text(quantity.low()), number_text(quantity.high()));
    const auto used = default_of(key_of_life(c, key));
    if (used != c.defaults.end()) {
      row.source = used->source;
    } else if (const auto& otherwise = input_of(key).otherwise;
               otherwise && quantity.is_fixed() && quantity.base() == *otherwise) {
      row.source = "stated or left out";
    }
    w.inputs.push_back(std::move(row));
  });
}

void add_notes(Weighing& w, const Contest& contest) {
  const Case& c = contest.model.c;
  w.notes.insert(w.notes.end(), contest.notes.begin(), contest.notes.end());
  const auto band = [&](const std::optional<Quantity>& q, const char* key, const char* what) {
    if (!q || q->is_fixed()) return;
    for (const auto& row : w.sensitivity) {
      if (row.key != key) continue;
      w.notes.push_back(fmt::format(
          "The {} is not known exactly ({} to {}): {}.", what, number_text(q->low()), number_text(q->high()),
          row.turns ? "the verdict turns inside that range, so it is worth finding out"
                    : "the verdict is the same at both ends"));
    }
  };
  band(c.device.age_years, "device.age_years", "age");
  band(c.device.use_per_day, "device.use_per_day", "use a day");
  band(c.device.hours_per_day, "device.hours_per_day", "use a day");
  if (c.device.bought_used_years_ago) {
    w.notes.push_back(fmt::format(
        "It was bought used {} years ago: its wear counts from new, but what its parts survived before "
        "then is no evidence of a long life.",
        number_text(c.device.bought_used_years_ago->base())));
  }
  if (c.fault.cause == Cause::spill) {
    w.notes.push_back(
        "A spill works on: dry and clean the whole board before anything else, and stop if corrosion has "
        "gone under "
        "parts. The other positions may fail together, whatever their wear.");
  }
  for (const auto& r : c.replacements) {
    if (contest.model.c.device.must_keep) break;
    if (!r.price && !contest.unpriced) {
      w.notes.push_back(fmt::format("{} has no price, so it is listed without it and not chosen.", r.name));
    }
  }
  if (contest.referred && !c.licensed_repair) {
    w.notes.push_back(
        "No price for a licensed repair is given ([licensed_repair] price): ask for one, and it can be "
        "weighed against "
        "replacement.");
  }
  const bool endless = std::any_of(contest.ensemble.tallies.begin(), contest.ensemble.tallies.end(),
                                   [](const Tally& t) { return t.counts.endless > 0; });
  if (endless) {
    w.notes.push_back(
        "In some futures a part fails so often that the repair was given up after 1000 later visits: check "
        "its rated life and the use.");
  }
  if (c.device.must_keep && !c.replacements.empty()) {
    w.notes.push_back("The device must be kept, so its replacements were not weighed.");
  }
}

}  // namespace mendworth
