#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "render/answer_words.hpp"
#include "render/beside.hpp"
#include "render/layout.hpp"
#include "render/number_text.hpp"

namespace mendworth {

namespace {

constexpr std::size_t most_courses = 4, fewest_courses = 3;
constexpr std::size_t most_order_lines = 3;
constexpr std::size_t nearest_break_evens = 4, widest_swings = 5;
constexpr std::size_t most_assumed = 3;

// What only one's own work on the device asks for; where that is ruled out, it plays no part. The labour rate does:
// setting up a replacement is own work too.
bool is_for_own_hands(const std::string& key) {
  if (key == "labour.rate_per_hour") return false;
  if (key.starts_with("labour.") || key.starts_with("risk.") || key.starts_with("supplier.")) return true;
  if (key.starts_with("position.")) {
    return key.ends_with(".termination") || key.ends_with(".minutes") || key.ends_with(".joints");
  }
  return key.starts_with("part.") &&
         (key.find(".candidate.") != std::string::npos || key.ends_with(".shelf_life_years"));
}

std::vector<Weighing::DefaultRow> defaults_in_play(const Weighing& w) {
  std::vector<Weighing::DefaultRow> rows;
  for (const Weighing::DefaultRow& row : w.defaults) {
    if (w.verdict.kind != VerdictKind::refer || !is_for_own_hands(row.key)) rows.push_back(row);
  }
  return rows;
}

Section order_of(const Weighing& w) {
  return w.order ? order_section(*w.order, {w.currency, w.minor_digits}) : Section{"What to order"};
}
// Each source once, by its number.
Section inputs_section(const Weighing& w) {
  Section section{"From which numbers"};
  if (w.inputs.empty()) return section;
  section.say(fmt::format(
      "Every course was run through the same {} possible futures (seed {}), in which parts fail by their "
      "Weibull law as this device's own parts bear it out, and each repair goes well or not by its chances; "
      "what is bought is the basket that costs least in expectation. Sums are of today's worth at {} a year.",
      w.settings.futures, w.settings.seed, percent(w.discount_rate)));
  Table table{.columns = {{"number", false}, {"taken as"}, {"from", false}}, .name = "inputs"};
  std::vector<std::string> sources;
  for (const Weighing::InputRow& row : w.inputs) {
    std::string from = row.source;
    if (!row.source.starts_with("stated")) {
      auto source = std::ranges::find(sources, row.source);
      if (source == sources.end()) source = sources.insert(sources.end(), row.source);
      from = fmt::format("[{}]", source - sources.begin() + 1);
    }
    table.add({row.label, row.value, from});
  }
  section.add(std::move(table));
  for (std::size_t i = 0; i < sources.size(); ++i) section.say(fmt::format("[{}] {}", i + 1, sources[i]));
  return section;
}
Section hazards_of(const Weighing& w) { return hazards_section(w.cautions); }
Section notes_of(const Weighing& w) { return notes_section(w.notes); }
// A default in the words of the inputs, without the unit, which its value has; its key where it is none of them.
std::string words_for(const Weighing& w, const Weighing::DefaultRow& row, const std::string& value) {
  const auto input = std::ranges::find(w.inputs, row.key, &Weighing::InputRow::key);
  if (input == w.inputs.end()) return row.key;
  const std::string unit = fmt::format(" ({})", value.substr(value.rfind(' ') + 1));
  const std::size_t length = input->label.size() - (input->label.ends_with(unit) ? unit.size() : 0);
  return input->label.substr(0, length);
}

// "7.667 (3 to 15) years": where the value comes from is said elsewhere.
std::string value_alone(const Weighing::DefaultRow& row) {
  return row.value.substr(0, std::min(row.value.find(": "), row.value.find(", ")));
}

Section assumed_of(const Weighing& w) {
  std::vector<Weighing::DefaultRow> rows = defaults_in_play(w);
  for (Weighing::DefaultRow& row : rows) {
    const std::string words = words_for(w, row, value_alone(row));
    if (words != row.key) row.value = words + ": " + row.value;
  }
  return assumed_section(rows);
}

constexpr SectionOf<Weighing> sections[] = {{"verdict", verdict_section},
                                            {"options", options_section},
                                            {"costs", costs_section},
                                            {"order", order_of},
                                            {"lives", lives_section},
                                            {"mates", mates_section},
                                            {"break-even", break_even_section},
                                            {"sensitivity", sensitivity_section},
                                            {"knowing", knowing_section},
                                            {"against", grid_section},
                                            {"rules", rules_section},
                                            {"hazards", hazards_of},
                                            {"notes", notes_of},
                                            {"inputs", inputs_section},
                                            {"assumed", assumed_of}};

// Money now beside the order is for what a visit uses up.
std::vector<std::string> what_to_order(const Weighing& w, const OrderAnswer& order) {
  const Sums sums{w.currency, w.minor_digits};
  std::vector<std::string> lines = order_lines(order, sums, most_order_lines);
  const auto plan = std::ranges::find(w.options, order.plan, &OptionResult::name);
  if (lines.empty() || plan == w.options.end()) return lines;
  const double used_up = plan->cash_now - order.landed;
  if (used_up >= 0.5 * std::pow(10.0, -w.minor_digits))
    lines.back() += fmt::format("; consumables {}", sums.amount(used_up));
  return lines;
}

// The courses, what to order and the hazards: with the verdict, an answer by itself.
Section answer_section(const Weighing& w) {
  Section section;
  std::vector<std::string> lines;
  if (w.order) lines = what_to_order(w, *w.order);
  const bool much_before = lines.size() > 1 || verdict_opening(w).size() > 1;
  section.add(short_options(w, much_before ? fewest_courses : most_courses));
  const VerdictKind kind = w.verdict.kind;
  const bool instead = kind == VerdictKind::replace || kind == VerdictKind::leave;
  for (std::string& line : lines) {
    if (!instead) line.front() = static_cast<char>(line.front() - 'a' + 'A');
    section.say((instead ? "To repair instead, " : "") + line + ".");
  }
  if (kind == VerdictKind::price_unknown) section.say("p: the price of the replacement, which is not known.");
  section.say(hazards_line(w.cautions));
  return section;
}

Section assumed_briefly(const Weighing& w) {
  Section section;
  std::vector<std::string> assumed;
  std::size_t more = 0;
  for (const Weighing::DefaultRow& row : defaults_in_play(w)) {
    if (!row.decided) continue;
    if (assumed.size() < most_assumed) {
      const std::string value = value_alone(row);
      assumed.push_back(words_for(w, row, value) + ", " + value);
    } else {
      ++more;
    }
  }
  if (!assumed.empty()) {
    section.say(fmt::format("Assumed, and it matters: {}{} ({} has the keys).", fmt::join(assumed, "; "),
                            more > 0 ? fmt::format("; and {} more", more) : "",
                            kept_together("--show assumed")));
  }
  return section;
}

}  // namespace

const std::vector<std::string>& weighing_sections() {
  static const std::vector<std::string> names = with_beside(section_names<sections>());
  return names;
}

Document weighing_document(const Weighing& w) {
  Document page = answer_document("Repair or replace: " + w.device);
  page.opening = verdict_opening(w);
  page.first_screen = {answer_section(w), short_break_evens(w, nearest_break_evens),
                       short_sensitivity(w, widest_swings), assumed_briefly(w)};
  if (w.grid) page.first_screen.push_back(grid_section(w));
  page.sections = sections_of(w, sections);
  page.report = {{"What to do, and how sure that is", {"verdict"}},
                 {"The money side by side", {"options", "costs"}},
                 {"What would turn it", {"break-even", "sensitivity", "against", "rules"}},
                 {"What to find out first", {"knowing"}},
                 {"What to order", {"order"}},
                 {"What if", {"what-if"}},
                 {"How the parts age", {"lives", "mates"}},
                 {"How it was worked out", {"notes", "inputs"}},
                 {"Cautions", {"hazards"}}};
  page.notes = static_cast<long long>(w.notes.size());
  page.closing.push_back({.text = fmt::format("Seed {}, {} futures, mendworth {}.", w.settings.seed,
                                              w.settings.futures, version()),
                          .spare = true});
  return page;
}

std::string weighing_page(const Weighing& w, const PageStyle& style) {
  return compared_page(Compared<Weighing>{w, {}}, style);
}

std::string compared_page(const Compared<Weighing>& all, const PageStyle& style) {
  const Weighing& w = all.answer;
  Document page = weighing_document(w);
  page.sections.push_back(beside_weighing(all, stars_in(style)));
  page.first_screen.insert(page.first_screen.begin() + 1, page.sections.back());
  return page_of(std::move(page), style);
}

}  // namespace mendworth
