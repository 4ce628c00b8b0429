#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "mendworth/weigh.hpp"
#include "render/document.hpp"

/// Words and sections that the answers of several commands share. A section that has nothing to say is empty.
namespace mendworth {

/// Sums of money of one answer.
class Sums {
 public:
  Sums(std::string currency, int minor_digits)
      : currency_(std::move(currency)), minor_digits_(minor_digits) {}

  [[nodiscard]] const std::string& currency() const noexcept { return currency_; }
  [[nodiscard]] int minor_digits() const noexcept { return minor_digits_; }
  /// "EUR 12.50": for running text, never broken at the space.
  [[nodiscard]] std::string amount(double value) const;
  /// The same with only the digits that the standard error supports.
  [[nodiscard]] std::string estimate(double value, double error) const;
  /// "12.50" for a table: whole units where `largest` is so large that digits would only fill the column, and no digits
  /// that the error does not support.
  [[nodiscard]] std::string cell(double value, double largest = 0, double error = 0) const;
  /// "0.375", "USD 0.4125": what one piece costs in the supplier's currency, whose digits are not ours to know.
  [[nodiscard]] std::string each(double value, const std::string& currency) const;

 private:
  std::string currency_;
  int minor_digits_;
};

/// "3.4 %", never broken at the space.
[[nodiscard]] std::string percent(double share);
/// "2027-03-31"
[[nodiscard]] std::string date_text(const Date& date);
/// "button: button 6 x 6", or the part alone where both have one name.
[[nodiscard]] std::string part_text(const std::string& part, const std::string& candidate);
/// "a, b and c"
[[nodiscard]] std::string listed(const std::vector<std::string>& items);

/// An answer without its sections: what every command's page has alike.
[[nodiscard]] Document answer_document(const std::string& title);

/// "Landed: EUR 12.01 (goods 5.10, shipping 4.90, tax 1.91). Wait: 3 days."
[[nodiscard]] std::string landed_words(const OrderAnswer& order, const Sums& sums);
[[nodiscard]] Section order_section(const OrderAnswer& order, const Sums& sums);
/// "order 10 x button 6 x 6 from Home parts: EUR 12.01 delivered, 3 days", at most `most` of them.
[[nodiscard]] std::vector<std::string> order_lines(const OrderAnswer& order, const Sums& sums,
                                                   std::size_t most);

[[nodiscard]] Section hazards_section(const std::vector<Weighing::Caution>& cautions);
/// All of them in one line.
[[nodiscard]] std::string hazards_line(const std::vector<Weighing::Caution>& cautions);
[[nodiscard]] Section notes_section(const std::vector<std::string>& notes);
[[nodiscard]] Section assumed_section(const std::vector<Weighing::DefaultRow>& rows);

/// The option of this name; null if there is none.
[[nodiscard]] const OptionResult* find_option(const Weighing& w, const std::optional<std::string>& name);

/// Where a break-even lies: "63.4 (63.1 to 63.7)", or the value alone where its interval is not known.
[[nodiscard]] std::string turning_value_text(const BreakEven& row, std::size_t which);

/// The whole answer of `weigh`, every section in it.
[[nodiscard]] Document weighing_document(const Weighing& w);

/// The verdict in a sentence or two, and what stands before it.
[[nodiscard]] std::vector<DocumentBlock> verdict_opening(const Weighing& w);
[[nodiscard]] Section verdict_section(const Weighing& w);
[[nodiscard]] Section options_section(const Weighing& w);
[[nodiscard]] Section costs_section(const Weighing& w);
[[nodiscard]] Section lives_section(const Weighing& w);
[[nodiscard]] Section mates_section(const Weighing& w);
[[nodiscard]] Section break_even_section(const Weighing& w);
[[nodiscard]] Section sensitivity_section(const Weighing& w);
[[nodiscard]] Section knowing_section(const Weighing& w);
[[nodiscard]] Section grid_section(const Weighing& w);
[[nodiscard]] Section rules_section(const Weighing& w);
/// "Find out before ordering: age of the device (years), worth at most EUR 4; ..."; empty where nothing was compared.
[[nodiscard]] std::string find_out_first(const Weighing& w);

/// `most` options, those that the verdict names among them.
[[nodiscard]] Table short_options(const Weighing& w, std::size_t most);
/// The `most` nearest turning values, and the `most` widest swings.
[[nodiscard]] Section short_break_evens(const Weighing& w, std::size_t most);
[[nodiscard]] Section short_sensitivity(const Weighing& w, std::size_t most);

}  // namespace mendworth
