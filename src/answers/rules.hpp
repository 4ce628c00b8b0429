#pragma once

#include <optional>

#include "answers/contest.hpp"
#include "answers/knobs.hpp"
#include "answers/money_in_time.hpp"
#include "answers/what_if.hpp"

namespace mendworth {

/// What the half-price rule of thumb says, and why the model agrees or not; nothing where the
/// replacement costs nothing.
[[nodiscard]] std::optional<HalfPriceRule> half_price_rule(const Contest& contest, const OptionResult& repair,
                                                           const OptionResult& replacement, double saving);

/// How long the repair must last to have paid, from the course of costs through time.
[[nodiscard]] Payback payback_of(const Contest& contest, std::size_t repair, std::size_t replacement,
                                 const MoneyInTime& in_time);

/// The saving with own time at nothing and at its rate, and the rate at which the answer turns.
[[nodiscard]] OwnTime own_time_of(const WhatIf& what_if, const Case& c,
                                  const std::vector<BreakEven>& break_evens);

/// What a claim on a live guarantee is worth beside the best of the other options.
[[nodiscard]] GuaranteeAnswer guarantee_of(const Case& c, double best_cost, const std::optional<Date>& today);

/// A discontinued device: what a working one must be worth for the repair to pay, and the most worth spending.
[[nodiscard]] Unpriced unpriced_of(const std::vector<OptionResult>& results);

}  // namespace mendworth
