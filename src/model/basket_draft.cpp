#include "model/basket_draft.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace mendworth {

bool beats(double cost, double best) {
  return std::isinf(best) ? cost < best : cost < best - 1e-10 * std::max(1.0, std::abs(best));
}

void BasketDraft::start() {
  picks.resize(menus_.size());
  goods_.assign(suppliers_.size(), 0.0);
  lines_.assign(suppliers_.size(), 0);
}

double BasketDraft::threshold() const {
  return best_.size() < wanted_ ? std::numeric_limits<double>::infinity() : best_.back().net;
}

void BasketDraft::sign() {
  signature_.clear();
  for (std::size_t p = 0; p < menus_.size(); ++p) {
    for (const std::size_t deal : picks[p].deal) {
      if (deal == kNone) continue;
      const Source& source = menus_[p].source_of(deal);
      for (const std::size_t s : source.supplier) {
        if (s != kNone) signature_.emplace_back(p, source.candidate, s);
      }
    }
  }
  std::sort(signature_.begin(), signature_.end());
  const auto same = [this](const FoundBasket& found) { return found.signature == signature_; };
  const auto known = std::find_if(best_.begin(), best_.end(), same);
  most_ = known == best_.end() ? threshold() : known->net;
}

std::array<double, 2> BasketDraft::take(const Source& source, const Lot& lot) {
  std::array<double, 2> before{0, 0};
  for (const std::size_t i : {0U, 1U}) {
    const std::size_t s = source.supplier[i];
    if (s == kNone) continue;
    before[i] = goods_[s];
    goods_[s] += lot.goods[i];
    ++lines_[s];
  }
  return before;
}

void BasketDraft::put_back(const Source& source, const std::array<double, 2>& before) {
  for (const std::size_t i : {0U, 1U}) {
    const std::size_t s = source.supplier[i];
    if (s == kNone) continue;
    goods_[s] = before[i];
    --lines_[s];
  }
}

double BasketDraft::misfit_cost() const {
  double cost = 0;
  for (std::size_t p = 0; p < menus_.size(); ++p) cost += menus_[p].modes()[picks[p].mode].misfit_cost;
  return cost;
}
double BasketDraft::leftover_worth() const {
  double sum = 0;
  for (std::size_t p = 0; p < menus_.size(); ++p) {
    for (const std::size_t i : {0U, 1U}) {
      if (picks[p].deal[i] != kNone) sum += menus_[p].deals()[picks[p].deal[i]].worth[picks[p].lot[i]];
    }
  }
  return sum;
}

void BasketDraft::offer() {
  double cost = 0;
  double days = 0;
  for (std::size_t s = 0; s < suppliers_.size(); ++s) {
    if (lines_[s] == 0) continue;
    const std::optional<LandedCost> landed = supplier_cost(*suppliers_[s].supplier, goods_[s]);
    if (!landed) return;
    cost += landed->total;
    days = std::max(days, landed->wait_days);
  }
  const double net = cost + day_cost_ * days + misfit_cost() - leftover_worth();
  if (!beats(net, most_)) return;
  most_ = net;
  keep(net);
}

std::vector<OrderItem> BasketDraft::items() const {
  std::vector<OrderItem> items;
  for (std::size_t p = 0; p < menus_.size(); ++p) {
    for (const std::size_t i : {0U, 1U}) {
      if (picks[p].deal[i] == kNone) continue;
      const Source& source = menus_[p].source_of(picks[p].deal[i]);
      const Lot& lot = source.lots[picks[p].lot[i]];
      for (const std::size_t k : {0U, 1U}) {
        if (lot.offer[k] >= 0)
          items.push_back(
              {menus_[p].part(), static_cast<int>(source.candidate), lot.offer[k], lot.quantity[k]});
      }
    }
  }
  std::stable_sort(items.begin(), items.end(),
                   [](const OrderItem& a, const OrderItem& b) { return a.part < b.part; });
  return items;
}

void BasketDraft::keep(double net) {
  FoundBasket found;
  found.net = net;
  found.signature = signature_;
  found.picks = picks;
  found.basket.misfit_cost = misfit_cost();
  found.basket.leftover_worth = leftover_worth();
  found.basket.items = items();
  const auto same = [&](const FoundBasket& other) { return other.signature == found.signature; };
  best_.erase(std::remove_if(best_.begin(), best_.end(), same), best_.end());
  const auto later =
      std::upper_bound(best_.begin(), best_.end(), net,
                       [](double value, const FoundBasket& other) { return value < other.net; });
  best_.insert(later, std::move(found));
  if (best_.size() > wanted_) best_.pop_back();
}

void BasketDraft::offer_whole() {
  for (std::size_t p = 0; p < menus_.size(); ++p) {
    for (const std::size_t i : {0U, 1U}) {
      if (picks[p].deal[i] == kNone) continue;
      const Source& source = menus_[p].source_of(picks[p].deal[i]);
      take(source, source.lots[picks[p].lot[i]]);
    }
  }
  sign();
  offer();
  std::fill(goods_.begin(), goods_.end(), 0.0);
  std::fill(lines_.begin(), lines_.end(), 0);
}

std::vector<Basket> BasketDraft::finished() const {
  std::vector<Basket> baskets;
  for (const FoundBasket& found : best_) {
    Basket basket = found.basket;
    if (const auto cost = landed_cost(case_, basket.items)) basket.cost = *cost;
    basket.wait_cost = day_cost_ * basket.cost.wait_days;
    baskets.push_back(std::move(basket));
  }
  return baskets;
}

}  // namespace mendworth
