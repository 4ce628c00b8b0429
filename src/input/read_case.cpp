#include "mendworth/read_case.hpp"

#include <algorithm>
#include <charconv>
#include <utility>

#include <fmt/format.h>

#include "input/case_reader.hpp"
#include "input/overrides.hpp"
#include "input/read_rows.hpp"
#include "input/read_what_ifs.hpp"
#include "input/reading.hpp"
#include "input/suggest.hpp"
#include "input/utf8.hpp"

namespace mendworth {

namespace input {

namespace {

/// Where a key stands in the tables of inputs and in their lists: keys are in the order of these numbers.
std::vector<std::size_t> rank_of(std::string_view key) {
  std::vector<std::size_t> rank;
  std::span<const Input> table = case_inputs();
  while (!key.empty()) {
    const std::string_view step = key.substr(0, key.find('.'));
    key.remove_prefix(std::min(key.size(), step.size() + 1));
    std::size_t number = 0;
    const auto [end, error] = std::from_chars(step.data(), step.data() + step.size(), number);
    if (error != std::errc{}) {
      const auto row = std::ranges::find(table, step, &Input::key);
      number = static_cast<std::size_t>(row - table.begin());
      if (row != table.end()) table = row->within;
    }
    rank.push_back(number);
  }
  return rank;
}

/// Where the value of a dotted key stands, or else the table or the list that it would stand in.
Place place_of(const Node& document, std::string_view key) {
  const Node* node = &document;
  Place place{};
  while (!key.empty()) {
    const std::string_view step = key.substr(0, key.find('.'));
    key.remove_prefix(std::min(key.size(), step.size() + 1));
    if (node->is_array()) {
      std::size_t number = 0;
      std::from_chars(step.data(), step.data() + step.size(), number);
      if (number < 1 || number > node->items.size()) break;
      node = &node->items[number - 1];
    } else {
      node = node->find(step);
      if (node == nullptr) break;
    }
    place = node->place;
  }
  return place;
}

}  // namespace

CaseReader::CaseReader(const Node& document, std::string source_name, const RateBook& rates,
                       Problems& problems)
    : document_(document, "", problems, case_inputs()), rates_(rates), problems_(problems) {
  case_.source_name = std::move(source_name);
}

Case CaseReader::read() {
  read_device();
  read_fault();
  // Positions and offers refer to parts and suppliers by name, wherever those stand in the file.
  read_suppliers();
  read_parts();
  read_labour();
  read_positions();
  check_use();
  read_risks();
  read_consumables();
  read_replacements();
  record_uncounted_time();
  read_horizon();
  read_rest();
  read_section("downtime", case_.downtime);
  if (document_.has("licensed_repair")) read_section("licensed_repair", case_.licensed_repair.emplace());
  read_bulk();
  read_section("intake", case_.intake);
  static_cast<void>(document_.has("rows"));  // a key that is known; read_row_words reads it
  document_.finish();
  report_clashes();
  // Read in the order that references need.
  std::ranges::stable_sort(case_.defaults, [](const DefaultUse& a, const DefaultUse& b) {
    return rank_of(a.key) < rank_of(b.key);
  });
  return std::move(case_);
}

void CaseReader::read_device() {
  TableReader table = document_.section("device");
  Device& device = case_.device;
  read_into(table, &device);
  if (!device.currency.empty())
    device.minor_digits = minor_digits(table, "currency", device.currency).value_or(2);
  read_kind(table);
  if (device.bought_used_years_ago && device.age_years.low() > 0 &&
      device.bought_used_years_ago->high() >= device.age_years.low()) {
    table.fail("bought_used_years_ago",
               fmt::format("{} years ago is not less than the device's age of {}",
                           device.bought_used_years_ago->high(), device.age_years.low()),
               "age_years counts from when the device was new; leave this out if it was bought new");
  }
  device.hazards = read_hazards(table, "hazards", rates_);
  referred_ = std::ranges::any_of(device.hazards, [this](const std::string& hazard) {
    const auto known = rates_.hazards.find(hazard);
    return known != rates_.hazards.end() && known->second.licensed_only;
  });
  if (device.guarantee_until) {
    device.guarantee_chance = quantity_or_default(table, "guarantee_chance");
    device.guarantee_days = quantity_or_default(table, "guarantee_days");
  } else {
    for (const char* key : {"guarantee_chance", "guarantee_days"}) {
      if (!table.has("guarantee_until") && table.has(key)) {
        table.fail(key, "a guarantee needs its last day",
                   "add guarantee_until = 2030-12-31 with the right date");
      }
    }
  }
  table.finish();
}

std::vector<std::string> read_hazards(TableReader& table, const char* key, const RateBook& rates) {
  std::vector<std::string> hazards = table.texts(key);
  for (auto hazard = hazards.begin(); hazard != hazards.end(); ++hazard) {
    if (rates.hazards.count(*hazard) == 0) {
      table.fail(key, fmt::format("there is no hazard class '{}'", printable(*hazard)),
                 suggestion(*hazard, names_of(rates.hazards), "'mendworth rates' lists them"));
    }
    if (std::find(hazards.begin(), hazard, *hazard) != hazard)
      table.fail(key, fmt::format("'{}' is listed twice", printable(*hazard)));
  }
  return hazards;
}

void CaseReader::read_kind(TableReader& table) {
  case_.device.kind = table.text("kind").value_or("");
  if (!case_.device.kind.empty() && rates_.device_kinds.count(case_.device.kind) == 0) {
    table.fail("kind", fmt::format("there is no kind of device '{}'", printable(case_.device.kind)),
               suggestion(case_.device.kind, names_of(rates_.device_kinds), "'mendworth rates' lists them"));
  }
  if (const auto life = table.quantity("life_years")) {
    case_.device.life_years = *life;
    states_life_ = true;
  }
  const Node* rest = document_.find("rest");
  if (table.has("life_years") && rest != nullptr && rest->find("remaining_years") != nullptr) {
    table.fail("life_years", "rest.remaining_years already says how long the device lasts from now",
               "keep one of the two");
  }
}

/// Only numbers that are right one by one can be looked at together.
void CaseReader::report_clashes() {
  if (problems_.count() > 0) return;
  for (const Clash& clash : clashes_of(case_)) {
    problems_.add(place_of(document_.node(), clash.key), clash.key, clash.message, clash.remedy);
  }
}

void CaseReader::read_fault() {
  TableReader table = document_.section("fault");
  Fault& fault = case_.fault;
  constexpr Cause causes[] = {Cause::wear, Cause::blow, Cause::spill, Cause::bad_joint};
  if (table.has("cause")) {
    fault.cause = causes[table.choice("cause").value_or(0)];
  } else if (const SourcedNames* usual = find_default_names("fault.cause", "fault.cause", table.place())) {
    for (const Cause cause : causes) {
      if (name_of(cause) == usual->names.front()) fault.cause = cause;
    }
    record("fault.cause", name_of(fault.cause), usual->source);
  }
  read_into(table, &fault);
  if (fault.cause == Cause::spill) {
    fault.common_cause_chance = quantity_or_default(table, "common_cause_chance");
    fault.common_cause_years = quantity_or_default(table, "common_cause_years");
  } else {
    fault.common_cause_chance = table.quantity("common_cause_chance").value_or(Quantity{});
    fault.common_cause_years = table.quantity("common_cause_years").value_or(Quantity::exactly(1.0));
  }
  table.finish();
}

void CaseReader::read_labour() {
  TableReader table = document_.section("labour");
  Labour& labour = case_.labour;
  if (!referred_ || table.has("rate_per_hour"))
    labour.rate_per_hour = table.required_quantity("rate_per_hour");
  labour.skill = table.text("skill").value_or("");
  if (!table.has("skill")) {
    if (const SourcedNames* usual = find_default_names("labour.skill", "labour.skill", table.place())) {
      labour.skill = usual->names.front();
      record("labour.skill", labour.skill, usual->source);
    }
  }
  const auto skill = rates_.skills.find(labour.skill);
  if (skill != rates_.skills.end()) {
    labour.skill_factor = skill->second.minutes_factor;
  } else if (!labour.skill.empty()) {
    table.fail("skill", fmt::format("there is no skill '{}'", printable(labour.skill)),
               suggestion(labour.skill, names_of(rates_.skills), "'mendworth rates' lists them"));
  }
  // After the skill: it stretches the minutes of the rates.
  labour.case_minutes = minutes_or_default(table, "case_minutes");
  labour.visit_minutes = minutes_or_default(table, "visit_minutes");

  read_into(table, &labour);
  if (table.has("learning_floor")) {
    labour.learning_floor = table.number("learning_floor").value_or(0.0);
  } else if (labour.learning_rate.low() < 1.0) {
    labour.learning_floor = take_default("labour.learning_floor", table.place()).base();
  }
  usual_position_minutes_ = table.quantity("position_minutes");
  table.finish();
}

/// Where the work is referred and no rate is stated, own time is left for setting up a replacement only.
void CaseReader::record_uncounted_time() {
  const Node* labour = document_.find("labour");
  if (!referred_ || (labour != nullptr && labour->find("rate_per_hour") != nullptr)) return;
  const bool sets_up = std::ranges::any_of(case_.replacements, [](const Replacement& replacement) {
    return replacement.setup_minutes.high() > 0;
  });
  if (!sets_up) return;
  record("labour.rate_per_hour", "0: own time is not counted",
         "the work is for a licensed person; what is left is to set up a replacement");
}

void CaseReader::read_risks() {
  TableReader table = document_.section("risk");
  Risks& risks = case_.risks;
  const auto skill = rates_.skills.find(case_.labour.skill);
  const auto by_skill = [&](const char* key, Quantity Skill::*member) {
    if (table.has(key)) return table.quantity(key).value_or(Quantity{});
    // An unknown skill was reported already.
    if (skill == rates_.skills.end()) return Quantity{};
    const Quantity value = skill->second.*member;
    record(table.key_of(key), fmt::format("{}, {}", quantity_text(value, ""), case_.labour.skill),
           skill->second.source);
    return value;
  };
  risks.opening_mendable = by_skill("opening_mendable", &Skill::opening_mendable);
  risks.opening_write_off = by_skill("opening_write_off", &Skill::opening_write_off);
  risks.joint_mendable = by_skill("joint_mendable", &Skill::joint_mendable);
  risks.joint_write_off = by_skill("joint_write_off", &Skill::joint_write_off);
  const auto check_together = [&](const char* key, const Quantity& mendable, const Quantity& write_off) {
    if (mendable.high() + write_off.high() <= 1.0) return;
    table.fail(key, fmt::format("{} mendable and {} write-off are more than 1 together", mendable.high(),
                                write_off.high()));
  };
  check_together("opening_mendable", risks.opening_mendable, risks.opening_write_off);
  check_together("joint_mendable", risks.joint_mendable, risks.joint_write_off);
  const auto minutes = [&](const char* key) {
    const bool stated = table.has(key);
    const Quantity usual = quantity_or_default(table, key);
    return stated ? usual : stretched(usual, table.key_of(key), table.place());
  };
  risks.mend_minutes = minutes("mend_minutes");
  risks.diagnosis_right = by_skill("diagnosis_right", &Skill::diagnosis_right);
  const auto misfit = table.choice("misfit_found");
  if (!table.has("misfit_found")) {
    risks.misfit_found_after_closing = quantity_or_default(table, "misfit_found_after_closing");
  } else if (table.has("misfit_found_after_closing")) {
    table.fail("misfit_found_after_closing", "misfit_found says the same in words", "keep one of the two");
  } else {
    risks.misfit_found_after_closing = Quantity::exactly(misfit == 1U ? 1.0 : 0.0);
  }
  risks.dry_fit_minutes = minutes("dry_fit_minutes");
  read_into(table, &risks);
  if (table.has("second_attempt")) {
    TableReader again = table.section("second_attempt");
    read_into(again, &risks.second_attempt.emplace());
    again.finish();
  }
  table.finish();
}

}  // namespace input

Case read_case(std::string_view text, const std::string& source_name, const RateBook& rates,
               const std::vector<std::string>& overrides) {
  return input::read_as(input::FileKind::case_file, text, source_name, [&] {
    input::Problems problems(source_name);
    if (text.size() > largest_case_file) {
      problems.add({}, "", fmt::format("larger than {} bytes: this is no case file", largest_case_file));
      problems.throw_if_any();
    }
    input::Node document = input::parse_document(text, source_name);
    if (document.entries.empty()) {
      problems.add({}, "", "the case is empty", "'mendworth new' writes a starter case");
      problems.throw_if_any();
    }
    input::apply_overrides(document, overrides, problems);
    const input::Node what_ifs = input::take_what_ifs(document);
    Case result = input::CaseReader(document, source_name, rates, problems).read();
    result.row_words = input::read_row_words(document, problems);
    problems.throw_if_any();
    result.what_ifs = input::read_what_ifs(document, what_ifs, result, rates);
    return result;
  });
}

}  // namespace mendworth
