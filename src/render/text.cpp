#include <fmt/format.h>

#include <cmath>

#include "mendworth/render.hpp"
#include "render/layout.hpp"
#include "render/number_text.hpp"
#include "render/weighing_sections.hpp"

namespace mendworth {

std::string weighing_text(const Weighing& w, const TextStyle& style) {
  Page page(style);
  verdict_section(page, w);
  options_section(page, w);
  cost_section(page, w);
  order_section(page, w);
  evidence_section(page, w);
  survivors_section(page, w);
  break_even_section(page, w);
  sensitivity_section(page, w);
  rules_section(page, w);
  cautions_section(page, w);
  notes_section(page, w);
  defaults_section(page, w);
  page.empty_line();
  page.paragraph(fmt::format("Seed {}, {} futures, mendworth {}.", w.settings.seed,
                             grouped_text(w.settings.futures), version()));
  return page.text();
}

std::string amount(const Weighing& w, double value) {
  return kept_together(amount_text(value, w.currency, w.minor_digits));
}

std::string estimate(const Weighing& w, double value, double error) {
  return kept_together(w.currency + " " + supported_money_text(value, error, w.minor_digits));
}

std::string percent(double share) { return kept_together(percent_text(share)); }

std::string cell(const Weighing& w, double value, double largest, double error) {
  return supported_money_text(value, error, std::abs(largest) >= 100'000 ? 0 : w.minor_digits);
}

std::string turning_value_text(const BreakEven& row, std::size_t which) {
  const double value = row.values[which];
  if (which >= row.intervals.size()) return number_text(value);
  return interval_text(value, row.intervals[which].low, row.intervals[which].high);
}

const OptionResult* find_option(const Weighing& w, const std::string& name) {
  for (const OptionResult& option : w.options) {
    if (option.name == name) return &option;
  }
  return nullptr;
}

const OptionResult* find_option(const Weighing& w, const std::optional<std::string>& name) {
  return name ? find_option(w, *name) : nullptr;
}

std::string date_text(const Date& date) {
  return fmt::format("{:04}-{:02}-{:02}", date.year, date.month, date.day);
}

}  // namespace mendworth
