#include "model/basket_draft.hpp"

#include <algorithm>
#include <limits>

namespace mendworth {

void WaitingJobs::add(const PartWish& wish) {
  for (const PartWish::Waiting& waiting : wish.waiting) {
    auto job = std::find_if(jobs_.begin(), jobs_.end(),
                            [&](const Job& known) { return known.number == waiting.job; });
    if (job == jobs_.end()) job = jobs_.insert(jobs_.end(), {waiting.job, waiting.day_cost});
    job->wishes.push_back(wishes_);
  }
  ++wishes_;
}

double WaitingJobs::cost(const std::vector<double>& days) const {
  double sum = 0;
  for (const Job& job : jobs_) {
    double longest = 0;
    for (const std::size_t wish : job.wishes) longest = std::max(longest, days[wish]);
    sum += job.day_cost * longest;
  }
  return sum;
}

void BasketDraft::start() {
  for (const PartMenu& menu : menus_) jobs_.add(menu.wish());
  goods_.assign(suppliers_.size(), 0.0);
  lines_.assign(suppliers_.size(), 0);
}

double BasketDraft::threshold() const { return best_.size() < wanted_ ? not_to_be_had : best_.back().net; }
double BasketDraft::least() const { return best_.empty() ? not_to_be_had : best_.front().net; }

Signature BasketDraft::signature_of(const std::vector<Pick>& picks) const {
  Signature signature;
  for (std::size_t p = 0; p < picks.size(); ++p) {
    for (const std::size_t deal : picks[p].deal) {
      if (deal == kNone) continue;
      const Source& source = menus_[p].source_of(deal);
      for (const std::size_t s : source.supplier) signature.emplace_back(p, source.candidate, s);
    }
  }
  std::sort(signature.begin(), signature.end());
  return signature;
}

double BasketDraft::most(const Signature& signature) const {
  const auto same = [&](const FoundBasket& found) { return found.signature == signature; };
  const auto known = std::find_if(best_.begin(), best_.end(), same);
  return known == best_.end() ? threshold() : known->net;
}

void BasketDraft::put(std::size_t part, const Pick& pick, int sign) {
  for (const std::size_t i : {0U, 1U}) {
    if (pick.deal[i] == kNone) continue;
    const Source& source = menus_[part].source_of(pick.deal[i]);
    const std::span<const double> goods = source.goods_of(pick.lot[i]);
    for (std::size_t k = 0; k < goods.size(); ++k) {
      const std::size_t s = source.supplier[k];
      lines_[s] += sign;
      goods_[s] = lines_[s] == 0 ? 0 : goods_[s] + sign * goods[k];
    }
  }
}

void BasketDraft::clear() {
  std::fill(goods_.begin(), goods_.end(), 0.0);
  std::fill(lines_.begin(), lines_.end(), 0);
}

double BasketDraft::supplier_total(std::size_t supplier, double goods) const {
  const auto cost = supplier_cost(*suppliers_[supplier].supplier, goods, parcel_);
  return cost ? cost->total : not_to_be_had;
}

double BasketDraft::least_wait(const ShadowPrices& prices) const {
  if (!jobs_.any()) return 0;
  std::vector<double> days(menus_.size(), 0.0);
  for (std::size_t p = 0; p < menus_.size(); ++p) {
    double least = not_to_be_had;
    for (std::size_t d = 0; d < menus_[p].deals().size(); ++d) {
      if (!menus_[p].is_open(d, prices)) continue;
      double longest = 0;
      for (const std::size_t s : menus_[p].source_of(d).supplier)
        longest = std::max(longest, suppliers_[s].lead_days);
      least = std::min(least, longest);
    }
    if (least < not_to_be_had) days[p] = least;
  }
  return jobs_.cost(days);
}

double BasketDraft::wait_for_own(const std::vector<Pick>& picks) const {
  std::vector<double> days(picks.size(), 0.0);
  for (std::size_t p = 0; p < picks.size(); ++p) {
    for (const std::size_t deal : picks[p].deal) {
      if (deal == kNone) continue;
      for (const std::size_t s : menus_[p].source_of(deal).supplier)
        days[p] = std::max(days[p], suppliers_[s].lead_days);
    }
  }
  return jobs_.cost(days);
}

double BasketDraft::order_cost(const std::vector<Pick>& picks) const {
  double cost = 0;
  double days = 0;
  for (std::size_t s = 0; s < suppliers_.size(); ++s) {
    if (lines_[s] == 0) continue;
    cost += supplier_total(s, goods_[s]);
    days = std::max(days, suppliers_[s].lead_days);
  }
  return cost + day_cost_ * days + (jobs_.any() ? wait_for_own(picks) : 0);
}

double BasketDraft::added_cost(const Source& source, std::size_t lot) const {
  double days = 0;
  for (std::size_t s = 0; s < suppliers_.size(); ++s) {
    if (lines_[s] > 0) days = std::max(days, suppliers_[s].lead_days);
  }
  const std::span<const double> goods = source.goods_of(lot);
  double cost = 0;
  double longer = days;
  for (std::size_t k = 0; k < goods.size(); ++k) {
    const std::size_t s = source.supplier[k];
    const double before = lines_[s] == 0 ? 0 : supplier_total(s, goods_[s]);
    const double after = supplier_total(s, goods_[s] + goods[k]);
    // Where the rest alone would be refused, anything that is accepted does.
    cost += before < not_to_be_had ? after - before : after;
    longer = std::max(longer, suppliers_[s].lead_days);
  }
  return cost + day_cost_ * (longer - days);
}

double BasketDraft::beside(const std::vector<Pick>& picks) const {
  double sum = 0;
  for (std::size_t p = 0; p < picks.size(); ++p) {
    sum += menus_[p].modes()[picks[p].mode].beside;
    for (const std::size_t i : {0U, 1U}) {
      if (picks[p].deal[i] != kNone) sum += menus_[p].deals()[picks[p].deal[i]].beside[picks[p].lot[i]];
    }
  }
  return sum;
}

Basket BasketDraft::basket_of(const std::vector<Pick>& picks) const {
  Basket basket;
  if (jobs_.any()) basket.wait_cost = wait_for_own(picks);
  for (std::size_t p = 0; p < picks.size(); ++p) {
    basket.misfit_cost += menus_[p].modes()[picks[p].mode].misfit_cost;
    basket.worth_of_wish.push_back(0);
    for (const std::size_t i : {0U, 1U}) {
      if (picks[p].deal[i] == kNone) continue;
      const Source& source = menus_[p].source_of(picks[p].deal[i]);
      const double worth = menus_[p].deals()[picks[p].deal[i]].worth[picks[p].lot[i]];
      basket.leftover_worth += worth;
      basket.worth_of_wish.back() += worth;
      for (const LotLine& line : source.lots[picks[p].lot[i]].lines)
        basket.items.push_back(
            {menus_[p].wish().part, static_cast<int>(source.candidate), line.offer, line.quantity});
    }
  }
  return basket;
}

void BasketDraft::keep(const std::vector<Pick>& picks, double net) {
  if (!(net < threshold())) return;
  FoundBasket found;
  found.signature = signature_of(picks);
  if (!(net < most(found.signature))) return;
  found.net = net;
  found.picks = picks;
  found.basket = basket_of(picks);
  std::erase_if(best_, [&](const FoundBasket& other) { return other.signature == found.signature; });
  const auto later =
      std::upper_bound(best_.begin(), best_.end(), net,
                       [](double value, const FoundBasket& other) { return value < other.net; });
  best_.insert(later, std::move(found));
  if (best_.size() > wanted_) best_.pop_back();
}

double BasketDraft::offer(const std::vector<Pick>& picks) {
  clear();
  for (std::size_t p = 0; p < picks.size(); ++p) put(p, picks[p], 1);
  const double net = order_cost(picks) + beside(picks);
  keep(picks, net);
  return net;
}

std::vector<Basket> BasketDraft::finished(const Case& c) const {
  std::vector<Basket> baskets;
  for (const FoundBasket& found : best_) {
    Basket basket = found.basket;
    if (const auto cost = landed_cost(c, basket.items, parcel_)) basket.cost = *cost;
    basket.wait_cost += day_cost_ * basket.cost.wait_days;
    baskets.push_back(std::move(basket));
  }
  return baskets;
}

}  // namespace mendworth
