#pragma once

#include <optional>
#include <vector>

#include "quote/customer_page.hpp"
#include "quote/owner.hpp"

namespace mendworth {

/// Work on a hazard that the rates leave to licensed people, and for which the shop claims no licence.
[[nodiscard]] std::optional<Refusal> refuse_unlicensed(const Case& c, const Shop& shop,
                                                       const RateBook& rates);

/// The choice that costs the owner least; `payments` where there is nothing to compare with.
[[nodiscard]] std::size_t best_for_owner(const OwnerView& view, const std::vector<Payments>& payments);

/// A device that costs its owner more repaired at this price than not, beyond what the simulation's error explains; or
/// one whose guarantee is live and worth claiming.
[[nodiscard]] std::optional<Refusal> refuse_owner_loss(const Case& c, const Shop& shop, const OwnerView& view,
                                                       const std::vector<PricedChoice>& choices,
                                                       const std::vector<Payments>& payments,
                                                       const Date& date);

/// What the repair is worth to the owner, in a sentence for the shop page.
[[nodiscard]] std::string owner_verdict(const Case& c, const Shop& shop, const OwnerView& view,
                                        std::size_t proposed);

/// How sure it is that a choice costs the owner less than what can be done instead: a toss-up too where most futures say
/// so but the mean does not. Absent where there is nothing to compare with.
[[nodiscard]] std::optional<Confidence> owner_judgement(const OwnerView& view, std::size_t proposed);

}  // namespace mendworth
