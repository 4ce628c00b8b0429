#include "mendworth/read_case.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <utility>

#include <fmt/format.h>

#include "input/case_reader.hpp"
#include "input/overrides.hpp"
#include "input/reading.hpp"
#include "input/suggest.hpp"
#include "input/utf8.hpp"

namespace mendworth {

namespace input {

namespace {

/// In the order in which a reader of a case expects them.
constexpr std::array<std::string_view, 15> sections = {
    "device",      "fault", "position", "part",    "supplier",        "labour", "risk",  "consumable",
    "replacement", "rest",  "downtime", "horizon", "licensed_repair", "bulk",   "intake"};

std::size_t section_rank(const std::string& key) {
  const std::string_view section = std::string_view(key).substr(0, key.find('.'));
  return static_cast<std::size_t>(std::find(sections.begin(), sections.end(), section) - sections.begin());
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
    : document_(document, "", problems), rates_(rates), problems_(problems) {
  case_.source_name = std::move(source_name);
  document_.expect({sections.begin(), sections.end()});
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
  read_downtime();
  read_licensed_repair();
  read_bulk();
  read_intake();
  document_.finish();
  report_clashes();
  // Read in the order that references need.
  std::stable_sort(
      case_.defaults.begin(), case_.defaults.end(),
      [](const DefaultUse& a, const DefaultUse& b) { return section_rank(a.key) < section_rank(b.key); });
  return std::move(case_);
}

void CaseReader::read_device() {
  TableReader table = document_.section("device");
  Device& device = case_.device;
  device.name = table.required_text("name", "what the device is", "write name = \"...\" under [device]");
  device.currency = table.required_text("currency", "the currency of all money in the case",
                                        "write currency = \"EUR\" or another ISO 4217 code under [device]");
  if (!device.currency.empty())
    device.minor_digits = minor_digits(table, "currency", device.currency).value_or(2);
  device.age_years =
      table.required_quantity("age_years", limits::years, "how old the device is; only its owner knows",
                              "write age_years = 4, or a range if it is not known: { low = 2, high = 6 }");
  read_kind(table);
  device.bought_used_years_ago = table.quantity("bought_used_years_ago", limits::years);
  if (device.bought_used_years_ago && device.age_years.low() > 0 &&
      device.bought_used_years_ago->high() >= device.age_years.low()) {
    table.fail("bought_used_years_ago",
               fmt::format("{} years ago is not less than the device's age of {}",
                           device.bought_used_years_ago->high(), device.age_years.low()),
               "age_years counts from when the device was new; leave this out if it was bought new");
  }
  device.use_per_day = table.quantity("use_per_day", limits::use_per_day);
  device.hours_per_day = table.quantity("hours_per_day", limits::hours_per_day);

  device.hazards = table.texts("hazards");
  for (std::size_t i = 0; i < device.hazards.size(); ++i) {
    const std::string& hazard = device.hazards[i];
    const auto known = rates_.hazards.find(hazard);
    if (known != rates_.hazards.end()) {
      referred_ = referred_ || known->second.licensed_only;
    } else {
      table.fail("hazards", fmt::format("there is no hazard class '{}'", printable(hazard)),
                 suggestion(hazard, names_of(rates_.hazards), "'mendworth rates' lists them"));
    }
    for (std::size_t j = 0; j < i; ++j) {
      if (device.hazards[j] == hazard)
        table.fail("hazards", fmt::format("'{}' is listed twice", printable(hazard)));
    }
  }

  device.must_keep = table.flag("must_keep").value_or(false);
  device.guarantee_until = table.date("guarantee_until");
  if (device.guarantee_until) {
    device.guarantee_chance =
        quantity_or_default(table, "guarantee_chance", limits::chance, "device.guarantee_chance", "");
    device.guarantee_days =
        quantity_or_default(table, "guarantee_days", limits::days, "device.guarantee_days", "days");
  } else {
    for (const char* key : {"guarantee_chance", "guarantee_days"}) {
      if (!table.has("guarantee_until") && table.has(key)) {
        table.fail(key, "a guarantee needs its last day",
                   "add guarantee_until = 2030-12-31 with the right date");
      }
    }
  }
  device.already_spent = table.number("already_spent", limits::money).value_or(0.0);
  device.resale =
      quantity_or_default(table, "resale", limits::money, "device.resale", device.currency.c_str());
  device.scrap = table.quantity("scrap", limits::money_or_fee).value_or(Quantity{});
  device.keepsake = table.quantity("keepsake", limits::money).value_or(Quantity{});
  table.finish();
}

void CaseReader::read_kind(TableReader& table) {
  case_.device.kind = table.text("kind").value_or("");
  if (!case_.device.kind.empty() && rates_.device_kinds.count(case_.device.kind) == 0) {
    table.fail("kind", fmt::format("there is no kind of device '{}'", printable(case_.device.kind)),
               suggestion(case_.device.kind, names_of(rates_.device_kinds), "'mendworth rates' lists them"));
  }
  device_life_ = table.quantity("life_years", limits::device_life);
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
  const std::vector<std::string> names = {name_of(causes[0]), name_of(causes[1]), name_of(causes[2]),
                                          name_of(causes[3])};
  if (table.has("cause")) {
    fault.cause = causes[table.choice("cause", names).value_or(0)];
  } else if (const SourcedNames* usual = find_default_names("fault.cause", "fault.cause", table.place())) {
    for (std::size_t i = 0; i < names.size(); ++i) {
      if (names[i] == usual->names.front()) fault.cause = causes[i];
    }
    record("fault.cause", name_of(fault.cause), usual->source);
  }
  fault.burden_per_year = table.quantity("burden_per_year", limits::money);
  if (fault.cause == Cause::spill) {
    fault.common_cause_chance =
        quantity_or_default(table, "common_cause_chance", limits::chance, "fault.common_cause_chance", "");
    fault.common_cause_years =
        quantity_or_default(table, "common_cause_years", limits::years, "fault.common_cause_years", "years");
  } else {
    fault.common_cause_chance = table.quantity("common_cause_chance", limits::chance).value_or(Quantity{});
    fault.common_cause_years =
        table.quantity("common_cause_years", limits::years).value_or(Quantity::exactly(1.0));
  }
  table.finish();
}

void CaseReader::read_labour() {
  TableReader table = document_.section("labour");
  Labour& labour = case_.labour;
  if (!referred_ || table.has("rate_per_hour")) {
    labour.rate_per_hour = table.required_quantity(
        "rate_per_hour", limits::money, "what an hour of work is worth; only you know",
        "write rate_per_hour = 20 under [labour], or 0 if own time is to count as free");
  }

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

  const auto learning = table.quantity("learning_rate", limits::learning_rate);
  labour.learning_rate = learning.value_or(Quantity::exactly(1.0));
  if (table.has("learning_floor")) {
    labour.learning_floor = table.number("learning_floor", limits::chance).value_or(0.0);
  } else if (learning && learning->low() < 1.0) {
    labour.learning_floor =
        take_default("labour.learning_floor", "labour.learning_floor", "", table.place()).base();
  }
  labour.done_before = table.integer("done_before", 0, most_pieces).value_or(0);
  usual_position_minutes_ = table.quantity("position_minutes", limits::minutes);
  table.finish();
}

/// Where the work is referred and no rate is stated, own time is left for setting up a replacement only.
void CaseReader::record_uncounted_time() {
  const Node* labour = document_.find("labour");
  if (!referred_ || (labour != nullptr && labour->find("rate_per_hour") != nullptr)) return;
  const bool sets_up =
      std::any_of(case_.replacements.begin(), case_.replacements.end(),
                  [](const Replacement& replacement) { return replacement.setup_minutes.high() > 0; });
  if (!sets_up) return;
  record("labour.rate_per_hour", "0: own time is not counted",
         "the work is for a licensed person; what is left is to set up a replacement");
}

void CaseReader::read_risks() {
  TableReader table = document_.section("risk");
  Risks& risks = case_.risks;
  const auto skill = rates_.skills.find(case_.labour.skill);
  const auto by_skill = [&](const char* key, Quantity Skill::*member) {
    if (table.has(key)) return table.quantity(key, limits::chance).value_or(Quantity{});
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
    const Quantity usual = quantity_or_default(table, key, limits::minutes, table.key_of(key), "min");
    return stated ? usual : stretched(usual, table.key_of(key), table.place());
  };
  risks.mend_minutes = minutes("mend_minutes");
  risks.mend_money = table.quantity("mend_money", limits::money).value_or(Quantity{});
  risks.diagnosis_right = by_skill("diagnosis_right", &Skill::diagnosis_right);
  risks.dead_found_after_closing = quantity_or_default(table, "dead_found_after_closing", limits::chance,
                                                       "risk.dead_found_after_closing", "");
  const auto misfit = table.choice("misfit_found", {"dry", "after-closing"});
  if (!table.has("misfit_found")) {
    risks.misfit_found_after_closing = quantity_or_default(
        table, "misfit_found_after_closing", limits::chance, "risk.misfit_found_after_closing", "");
  } else if (table.has("misfit_found_after_closing")) {
    table.fail("misfit_found_after_closing", "misfit_found says the same in words", "keep one of the two");
  } else {
    risks.misfit_found_after_closing = Quantity::exactly(misfit == 1U ? 1.0 : 0.0);
  }
  risks.dry_fit_minutes = minutes("dry_fit_minutes");
  read_second_attempt(table);
  table.finish();
}

void CaseReader::read_second_attempt(TableReader& risk) {
  if (!risk.has("second_attempt")) return;
  TableReader table = risk.section("second_attempt");
  SecondAttempt attempt;
  attempt.minutes = table.required_quantity("minutes", limits::minutes,
                                            "the time that a second attempt takes", "minutes = 30");
  attempt.money = table.quantity("money", limits::money).value_or(Quantity{});
  attempt.chance = table.required_quantity("chance", limits::chance,
                                           "the chance that a second attempt cures it", "chance = 0.5");
  case_.risks.second_attempt = attempt;
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
    Case result = input::CaseReader(document, source_name, rates, problems).read();
    problems.throw_if_any();
    return result;
  });
}

}  // namespace mendworth
