#pragma once

#include <string>

#include "mendworth/bulk.hpp"
#include "render/answer_words.hpp"
#include "render/document.hpp"

/// What bulk answers say of purchases, and words that their sections share.
namespace mendworth {

[[nodiscard]] inline Sums sums_in(const BulkAnswer& a) { return {a.currency, a.minor_digits}; }
/// Expected pieces or orders, with the digits that a reader needs.
[[nodiscard]] std::string counted(double value);
/// A table's name; where there are several demands, each has one.
[[nodiscard]] std::string name_in(const BulkAnswer& a, const std::string& base, const BulkScenario& scenario);
/// Names the demand where there are several.
void say_scenario(Section& section, const BulkAnswer& a, const BulkScenario& scenario);
[[nodiscard]] std::string ladder_name(const BulkLadder& ladder);
/// "from one"; "30 from one and 20 from another".
[[nodiscard]] std::string bought_of(const std::vector<BulkLine>& lines);

/// All figures of a ladder's rows, or the few that fit a first screen.
[[nodiscard]] Table ladder_table(const BulkAnswer& a, const BulkLadder& ladder, bool all);
[[nodiscard]] Section buy_section(const BulkAnswer& a);
/// The best purchases from each supplier and quotation; empty where there is but one.
[[nodiscard]] Section compare_section(const BulkAnswer& a);
/// What a piece that is used costs from each supplier and quotation, by quantity; empty where there is but one.
[[nodiscard]] Section offers_section(const BulkAnswer& a);
/// Where another purchase becomes best; empty where none does.
[[nodiscard]] Section turns_section(const BulkAnswer& a);
/// What to do about a part, in a sentence or two.
[[nodiscard]] std::string choice_verdict(const BulkAnswer& a, const BulkScenario& scenario,
                                         const BulkChoice& choice);

}  // namespace mendworth
