#include <algorithm>
#include <cmath>
#include <limits>

#include "model/purchase.hpp"

namespace mendworth {
namespace {

constexpr long kMostSteps = 2'000'000;

// An offer that can meet a need, with what it adds to the order whatever else is bought.
struct Choice {
  int offer = 0;
  std::size_t supplier = 0;
  double goods = 0;         // supplier's currency
  double landed_goods = 0;  // with tax and exchange, case currency
  double lead_days = 0;
};

double landed_factor(const Supplier& supplier) {
  return supplier.exchange_rate.base() * (1 + supplier.tax.base()) * (1 + supplier.exchange_fee.base());
}

// The least that shipping and customs can add at a supplier once `goods` are on the order, whatever joins
// them later: this job's share of the parcel only rises, a reached tier stays reached, and goods beyond the
// free limit stay beyond.
double least_surcharge(const Supplier& supplier, double goods) {
  const double parcel = goods + supplier.other_goods;
  if (parcel <= 0) return 0;
  const double share = goods / parcel;
  double shipping = std::numeric_limits<double>::infinity();
  for (std::size_t k = 0; k < supplier.shipping.size(); ++k) {
    const bool outgrown = k + 1 < supplier.shipping.size() && parcel >= supplier.shipping[k + 1].goods_from;
    if (!outgrown) shipping = std::min(shipping, supplier.shipping[k].price.base());
  }
  shipping *= share;
  double surcharge = landed_factor(supplier) * shipping;
  const double free_limit = supplier.duty_free_up_to.base();
  if (parcel > free_limit + 1e-6 * std::max(1.0, free_limit)) {
    const double customs_value = goods + (supplier.duty_on_shipping ? shipping : 0);
    const double duty = supplier.duty.base() * customs_value;
    surcharge += supplier.exchange_rate.base() *
                 (duty * (1 + supplier.tax.base()) + share * supplier.customs_fee.base());
  }
  return surcharge;
}

// Depth-first over the needs, cheapest lines first, leaving out branches that cannot beat the best order so
// far.
class OrderSearch {
 public:
  OrderSearch(const Case& c, std::span<const Need> needs, double day_cost)
      : case_(c), day_cost_(day_cost), goods_(c.suppliers.size(), 0.0), lines_(c.suppliers.size(), 0) {
    for (const Need& need : needs) {
      choices_.push_back(choices_for(need));
      items_.push_back({need.part, need.candidate, 0, need.pieces});
    }
    least_goods_after_.assign(needs.size() + 1, 0.0);
    least_days_after_.assign(needs.size() + 1, 0.0);
    for (std::size_t i = needs.size(); i-- > 0;) {
      double goods = std::numeric_limits<double>::infinity();
      double days = std::numeric_limits<double>::infinity();
      for (const Choice& choice : choices_[i]) {
        goods = std::min(goods, choice.landed_goods);
        days = std::min(days, choice.lead_days);
      }
      least_goods_after_[i] = least_goods_after_[i + 1] + goods;
      least_days_after_[i] = std::max(least_days_after_[i + 1], days);
    }
  }

  std::optional<Order> run() {
    const auto cannot_be_met = [](const std::vector<Choice>& choices) { return choices.empty(); };
    if (std::any_of(choices_.begin(), choices_.end(), cannot_be_met)) return std::nullopt;
    descend(0, 0, 0);
    if (!best_items_) return std::nullopt;
    const std::optional<LandedCost> cost = landed_cost(case_, *best_items_);
    if (!cost) return std::nullopt;
    return Order{*best_items_, *cost, steps_ > kMostSteps};
  }

 private:
  std::vector<Choice> choices_for(const Need& need) const {
    const Candidate& candidate =
        case_.parts[static_cast<std::size_t>(need.part)].candidates[static_cast<std::size_t>(need.candidate)];
    std::vector<Choice> choices;
    for (std::size_t k = 0; k < candidate.offers.size(); ++k) {
      const Offer& offer = candidate.offers[k];
      if (!is_allowed(offer, need.pieces)) continue;
      Choice choice;
      choice.offer = static_cast<int>(k);
      choice.supplier = static_cast<std::size_t>(offer.supplier);
      const Supplier& supplier = case_.suppliers[choice.supplier];
      choice.goods = line_price(offer, need.pieces);
      choice.landed_goods = landed_factor(supplier) * choice.goods;
      choice.lead_days = supplier.lead_days.base();
      choices.push_back(choice);
    }
    std::stable_sort(choices.begin(), choices.end(),
                     [](const Choice& a, const Choice& b) { return a.landed_goods < b.landed_goods; });
    return choices;
  }

  double bound(std::size_t next_need, double landed_goods, double days) const {
    double cost = landed_goods + least_goods_after_[next_need] +
                  day_cost_ * std::max(days, least_days_after_[next_need]);
    for (std::size_t s = 0; s < goods_.size(); ++s) {
      if (goods_[s] > 0) cost += least_surcharge(case_.suppliers[s], goods_[s]);
    }
    return cost;
  }

  bool beats_best(double cost) const {
    return !best_items_ || cost < best_cost_ - 1e-10 * std::max(1.0, std::abs(best_cost_));
  }

  void price_order(double days) {
    double cost = day_cost_ * days;
    for (std::size_t s = 0; s < goods_.size(); ++s) {
      if (lines_[s] == 0) continue;
      const std::optional<LandedCost> landed = supplier_cost(case_.suppliers[s], goods_[s]);
      if (!landed) return;
      cost += landed->total;
    }
    if (!beats_best(cost)) return;
    best_items_ = items_;
    best_cost_ = cost;
  }

  void descend(std::size_t i, double landed_goods, double days) {
    if (++steps_ > kMostSteps || !beats_best(bound(i, landed_goods, days))) return;
    if (i == choices_.size()) {
      price_order(days);
      return;
    }
    for (const Choice& choice : choices_[i]) {
      const double before = goods_[choice.supplier];
      goods_[choice.supplier] = before + choice.goods;
      ++lines_[choice.supplier];
      items_[i].offer = choice.offer;
      descend(i + 1, landed_goods + choice.landed_goods, std::max(days, choice.lead_days));
      --lines_[choice.supplier];
      goods_[choice.supplier] = before;
    }
  }

  const Case& case_;
  double day_cost_;
  std::vector<double> goods_;                 // by supplier, its currency
  std::vector<int> lines_;                    // by supplier
  std::vector<std::vector<Choice>> choices_;  // by need
  std::vector<double> least_goods_after_;     // of the needs from here on
  std::vector<double> least_days_after_;
  std::vector<OrderItem> items_;
  std::optional<std::vector<OrderItem>> best_items_;
  double best_cost_ = 0;
  long steps_ = 0;
};

}  // namespace

std::optional<Order> cheapest_order(const Case& c, std::span<const Need> needs, double day_cost) {
  return OrderSearch(c, needs, day_cost).run();
}

}  // namespace mendworth
