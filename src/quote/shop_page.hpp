#pragma once

#include "quote/shop_choice.hpp"

namespace mendworth {

struct ShopPageInput {
  const QuoteTask& task;
  const RateBook& rates;
  const Contest& contest;
  const OwnerView& owner;
  const std::vector<PricedChoice>& choices;
  const std::optional<Bill>& no_cure;  ///< charged without a cure; absent: nothing
  std::size_t proposed = 0;            ///< index of the recommended choice
};

/// The page at cost: every choice through futures, what moves the margin of the proposed one, what a diagnosis earns.
[[nodiscard]] ShopPage shop_page(const ShopPageInput& input, ModelCache& cache);

/// What the work and the pieces of a job cost the shop if all goes well; leftovers are its own.
[[nodiscard]] double planned_cost(const QuoteTask& task, const JobPlan& plan);

}  // namespace mendworth
