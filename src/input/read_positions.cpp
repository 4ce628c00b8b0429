#include <utility>

#include <fmt/format.h>

#include "input/case_reader.hpp"
#include "input/suggest.hpp"
#include "input/utf8.hpp"

namespace mendworth::input {

void CaseReader::read_positions() {
  std::vector<TableReader> tables = document_.sections("position");
  document_.require("position");
  if (tables.empty()) return;
  const std::size_t problems_before = problems_.count();
  UniqueNames names;
  for (TableReader& table : tables) {
    read_position(table);
    names.add(table, case_.positions.back().name);
  }
  if (problems_.count() != problems_before) return;
  for (const PositionGroup& group : case_.positions) {
    if (group.failed > 0) return;
  }
  problems_.add(tables.front().place(), "position.failed",
                "no position has failed: there is nothing to decide",
                "write failed = 1 in the [[position]] that does not work");
}

void CaseReader::read_position(TableReader& table) {
  const std::size_t problems_before = problems_.count();
  PositionGroup group;
  read_into(table, &group);
  const std::string part = table.required_text("part", "the part that sits here", "the name of a [[part]]");
  if (const auto found = parts_.index.find(part); found != parts_.index.end()) {
    group.part = static_cast<int>(found->second);
  } else if (!part.empty() && parts_.known) {
    table.fail("part", fmt::format("there is no [[part]] named '{}'", printable(part)),
               suggestion(part, names_of(parts_.index), "every part of a position needs its [[part]]"));
  }
  if (group.renewed > 0) {
    group.renewed_years_ago = table.required_quantity("renewed_years_ago");
  } else if (table.has("renewed_years_ago")) {
    table.fail("renewed_years_ago", "no position of this group was renewed",
               "add renewed = 1, or leave it out");
  }
  if (problems_.count() == problems_before) {
    if (group.failed > group.count) {
      table.fail("failed", fmt::format("{} failed of {}", group.failed, group.count),
                 "failed is at most count, which is 1 if it is left out");
    } else if (group.failed + group.renewed > group.count) {
      table.fail("renewed",
                 fmt::format("{} failed and {} renewed of {}", group.failed, group.renewed, group.count),
                 "renewed ones work: failed and renewed are at most count together");
    }
    if (group.renewed_years_ago.high() > case_.device.age_years.high()) {
      table.fail("renewed_years_ago",
                 fmt::format("renewed {} years ago, but the device is {} years old",
                             group.renewed_years_ago.high(), case_.device.age_years.high()));
    }
  }
  read_work(table, group);
  table.finish();
  case_.positions.push_back(std::move(group));
}

void CaseReader::read_work(TableReader& table, PositionGroup& group) {
  group.termination = table.text("termination").value_or("");
  const auto stated_minutes = table.quantity("minutes");
  const auto stated_joints = table.integer("joints");
  const std::optional<Quantity> usual_minutes = stated_minutes ? stated_minutes : usual_position_minutes_;
  const bool all_stated = usual_minutes && stated_joints;
  if (!table.has("termination") && !all_stated) {
    if (const SourcedNames* usual =
            find_default_names("position.termination", table.key_of("termination"), table.place())) {
      group.termination = usual->names.front();
      record(table.key_of("termination"), group.termination, usual->source);
    }
  }
  const auto found = rates_.terminations.find(group.termination);
  if (found == rates_.terminations.end()) {
    if (!group.termination.empty()) {
      table.fail(
          "termination", fmt::format("there is no termination '{}'", printable(group.termination)),
          suggestion(group.termination, names_of(rates_.terminations), "'mendworth rates' lists them"));
    }
    group.minutes = usual_minutes.value_or(Quantity{});
    group.joints = stated_joints.value_or(0);
    return;
  }
  const Termination& termination = found->second;
  group.minutes = usual_minutes.value_or(Quantity{});
  if (!usual_minutes && !table.has("minutes")) {
    const Quantity usual =
        independent_sum({termination.remove_minutes, termination.clean_minutes, termination.fit_minutes});
    group.minutes = stretched(usual, table.key_of("minutes"), table.place());
    record(table.key_of("minutes"),
           fmt::format("{}: {}{}", quantity_text(group.minutes, "min"), found->first, skill_text()),
           termination.source);
  }
  group.joints = stated_joints.value_or(0);
  if (!table.has("joints")) {
    group.joints = termination.joints;
    record(table.key_of("joints"), fmt::format("{}: {}", group.joints, found->first), termination.source);
  }
}

/// Lives in cycles need the use per day, lives in hours the hours per day.
void CaseReader::check_use() {
  const Node* device = document_.find("device");
  const auto is_missing = [&](const char* key) {
    return device == nullptr || !device->is_table() || device->find(key) == nullptr;
  };
  const auto report = [&](const char* key, std::string message, std::string remedy) {
    problems_.add(device != nullptr ? device->place : Place{}, std::string("device.") + key,
                  std::move(message), std::move(remedy));
  };
  const Part* cycles = nullptr;
  const Part* hours = nullptr;
  const auto look_at = [&](const Part& part, const LifePrior& life) {
    if (part.name.empty() || life.rated_life.high() <= 0)
      return;  // reported already, and the unit is not known
    if (life.unit == LifeUnit::cycles && cycles == nullptr) cycles = &part;
    if (life.unit == LifeUnit::hours && hours == nullptr) hours = &part;
  };
  for (const PositionGroup& group : case_.positions) {
    const auto index = static_cast<std::size_t>(group.part);
    if (index >= case_.parts.size()) continue;
    const Part& part = case_.parts[index];
    look_at(part, part.life);
    for (const Candidate& candidate : part.candidates) look_at(part, candidate.life);
  }
  if (cycles != nullptr && is_missing("use_per_day")) {
    report("use_per_day",
           fmt::format(
               "missing: how often the busiest position is operated in a day: the life of '{}' is in cycles",
               cycles->name),
           "write use_per_day = 30, or a range: { low = 10, high = 80 }");
  }
  if (hours != nullptr && is_missing("hours_per_day")) {
    report("hours_per_day",
           fmt::format("missing: how many hours a day the device is on: the life of '{}' is in hours",
                       hours->name),
           "write hours_per_day = 8, or a range: { low = 4, high = 12 }");
  }
}

}  // namespace mendworth::input
