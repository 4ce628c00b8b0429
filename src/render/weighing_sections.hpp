#pragma once

#include <cstddef>
#include <string>

#include "mendworth/weigh.hpp"
#include "render/page.hpp"

/// The sections of the text of a weighing, one function each, in the order of the page. A section that has
/// nothing to say writes nothing.
namespace mendworth {

void verdict_section(Page& page, const Weighing& w);
void options_section(Page& page, const Weighing& w);
void cost_section(Page& page, const Weighing& w);

void order_section(Page& page, const Weighing& w);

void evidence_section(Page& page, const Weighing& w);
void survivors_section(Page& page, const Weighing& w);

void break_even_section(Page& page, const Weighing& w);
void sensitivity_section(Page& page, const Weighing& w);
void rules_section(Page& page, const Weighing& w);

void cautions_section(Page& page, const Weighing& w);
void defaults_section(Page& page, const Weighing& w);
void notes_section(Page& page, const Weighing& w);

/// "EUR 12.50" in the currency of the weighing, "3.4 %": for running text, never broken at the space.
[[nodiscard]] std::string amount(const Weighing& w, double value);
[[nodiscard]] std::string percent(double share);
/// The same with only the digits that the standard error supports.
[[nodiscard]] std::string estimate(const Weighing& w, double value, double error);
/// "12.50" for a table cell; whole units where `largest` is so large that digits would only fill the column, and no
/// digits that the error does not support.
[[nodiscard]] std::string cell(const Weighing& w, double value, double largest = 0, double error = 0);
/// Where a break-even lies: "63.4 (63.1 to 63.7)", or the value alone where its interval is not known.
[[nodiscard]] std::string turning_value_text(const BreakEven& row, std::size_t which);
/// The option of this name; null if there is none.
[[nodiscard]] const OptionResult* find_option(const Weighing& w, const std::string& name);
[[nodiscard]] const OptionResult* find_option(const Weighing& w, const std::optional<std::string>& name);
/// "2027-03-31"
[[nodiscard]] std::string date_text(const Date& date);

}  // namespace mendworth
