#include "model/basket.hpp"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <stdexcept>
#include <tuple>

#include "model/basket_draft.hpp"

// The search cuts all baskets into regions: who is bought from, and the range in which the goods at each of them lie.
// In a region every supplier's cost lies on or above a straight line of any slope, a shadow price; the lines taken
// together let each part choose for itself, and that is a bound (Lagrangian relaxation: A. M. Geoffrion, Lagrangean
// relaxation for integer programming, Mathematical Programming Study 2, 1974). Regions whose bound is no better than
// the baskets in hand are left out; in the others, choices are tried by rising cost at the shadow prices as long as the
// bound allows: first who supplies what, then how many.

namespace mendworth {
namespace {

constexpr double kInfinite = std::numeric_limits<double>::infinity();
constexpr long kMostSteps = 20'000'000;
constexpr long kStepsOfBound = 16;  // a bound takes about as long as so many steps
constexpr std::size_t kMostRegions = 200'000;

class BasketFinder {
 public:
  BasketFinder(const Case& c, std::span<const PartWish> wishes, double day_cost, const BasketLimits& limits,
               int wanted)
      : day_cost_(day_cost), draft_(c, suppliers_, menus_, day_cost, static_cast<std::size_t>(wanted)) {
    for (std::size_t s = 0; s < c.suppliers.size(); ++s) {
      const bool right_one = !limits.only_supplier || static_cast<std::size_t>(*limits.only_supplier) == s;
      const bool in_time =
          !limits.most_wait_days || c.suppliers[s].lead_days.base() <= *limits.most_wait_days + 1e-9;
      suppliers_.emplace_back(c.suppliers[s], right_one && in_time);
    }
    for (const PartWish& wish : wishes) menus_.emplace_back(c, wish, suppliers_);
    for (const BasketSupplier& s : suppliers_) {
      prices_.at.push_back(s.base);
      prices_.open.push_back(s.permitted ? 1 : 0);
      range_.push_back(kNone);
    }
    used_.assign(suppliers_.size(), 0);
    draft_.start();
    choices_.resize(menus_.size());
  }

  BasketSearch run() {
    BasketSearch result;
    const double root = bound();
    if (std::isinf(root)) return result;
    start();
    const LotLimits lists{threshold() - root + 1e-9 * std::max(1.0, std::abs(threshold() - root))};
    for (PartMenu& menu : menus_) {
      if (!menu.list_all(lists)) lists_complete_ = false;
    }
    collect_regions(0);
    std::stable_sort(regions_.begin(), regions_.end(),
                     [](const Region& a, const Region& b) { return a.bound < b.bound; });
    double least_left = kInfinite;
    for (const Region& region : regions_) {
      if (!beats(region.bound, threshold())) break;
      search(region);
      if (stopped()) {
        least_left = region.bound;
        break;
      }
    }
    if (!regions_complete_ || !lists_complete_) least_left = least_conceivable(root);
    result.best = draft_.finished();
    result.proved = lists_complete_ && regions_complete_ && !stopped();
    const double first = draft_.best().empty() ? kInfinite : draft_.best().front().net;
    result.bound = std::min(first, least_left);
    if (std::isinf(result.bound)) result.bound = 0;
    return result;
  }

 private:
  struct Region {
    std::vector<char> used;
    double bound = 0;
  };

  double threshold() const { return draft_.threshold(); }
  bool stopped() const { return steps_ > kMostSteps; }

  // --- bounds

  double beside(std::size_t s) const {
    const BasketSupplier& supplier = suppliers_[s];
    if (used_[s] == 0) return 0;
    return range_[s] == kNone ? supplier.least_beside[prices_.at[s]]
                              : supplier.beside[range_[s]][prices_.at[s]];
  }

  double bound() {
    steps_ += kStepsOfBound;
    double days = 0;
    double cost = 0;
    for (std::size_t s = 0; s < suppliers_.size(); ++s) {
      if (used_[s] == 0) continue;
      cost += beside(s);
      days = std::max(days, suppliers_[s].supplier->lead_days.base());
    }
    cost += day_cost_ * days;
    for (PartMenu& menu : menus_) cost += menu.least(prices_);
    return cost;
  }

  // The bound is a concave function of each shadow price: climb while it rises.
  double climb(std::size_t s, double now) {
    std::size_t& k = prices_.at[s];
    bool rose = false;
    while (k + 1 < suppliers_[s].prices.size()) {
      ++k;
      const double next = bound();
      if (!(next > now)) {
        --k;
        break;
      }
      now = next;
      rose = true;
    }
    while (!rose && k > 0) {
      --k;
      const double next = bound();
      if (!(next > now)) {
        ++k;
        break;
      }
      now = next;
    }
    return now;
  }

  // --- regions

  void collect_regions(std::size_t s) {
    if (stopped() || regions_.size() >= kMostRegions) {
      regions_complete_ = false;
      return;
    }
    const double least = bound();
    if (!beats(least, threshold())) return;
    while (s < suppliers_.size() && !suppliers_[s].permitted) ++s;
    if (s == suppliers_.size()) {
      regions_.push_back({used_, least});
      return;
    }
    used_[s] = 1;
    collect_regions(s + 1);
    used_[s] = 0;
    prices_.open[s] = 0;
    collect_regions(s + 1);
    prices_.open[s] = 1;
  }

  void search(const Region& region) {
    used_ = region.used;
    prices_.open = region.used;
    for (std::size_t s = 0; s < suppliers_.size(); ++s) prices_.at[s] = suppliers_[s].base;
    narrow(0);
    for (std::size_t s = 0; s < suppliers_.size(); ++s) range_[s] = kNone;
  }

  // Gives supplier s and all later ones of the region a range of goods.
  void narrow(std::size_t s) {
    while (s < suppliers_.size() && used_[s] == 0) ++s;
    if (s == suppliers_.size()) {
      double least = bound();
      for (int round = 0; round < 3 && beats(least, threshold()); ++round) {
        const double before = least;
        for (std::size_t k = 0; k < suppliers_.size(); ++k) {
          if (used_[k] != 0) least = climb(k, least);
        }
        if (!beats(before, least)) break;
      }
      if (beats(least, threshold())) choose_sources(least);
      return;
    }
    const BasketSupplier& supplier = suppliers_[s];
    std::vector<std::tuple<double, std::size_t, std::size_t>> ranges;  // bound, range, price
    for (std::size_t r = 0; r < supplier.ranges.size(); ++r) {
      range_[s] = r;
      prices_.at[s] = supplier.natural[r];
      double least = bound();
      if (beats(least, threshold())) least = climb(s, least);
      if (beats(least, threshold())) ranges.emplace_back(least, r, prices_.at[s]);
    }
    std::sort(ranges.begin(), ranges.end());
    const std::vector<std::size_t> prices = prices_.at;
    for (const auto& [least, r, price] : ranges) {
      if (stopped() || !beats(least, threshold())) break;
      prices_.at = prices;
      range_[s] = r;
      prices_.at[s] = price;
      narrow(s + 1);
    }
    range_[s] = kNone;
    prices_.at = prices;
    prices_.at[s] = supplier.base;
  }

  // --- who supplies what

  void choose_sources(double least) {
    const double most_above = threshold() - least;
    for (std::size_t p = 0; p < menus_.size(); ++p) {
      list_choices(p, most_above);
      if (choices_[p].empty()) return;
    }
    order_.resize(menus_.size());
    for (std::size_t p = 0; p < order_.size(); ++p) order_[p] = p;
    // Parts with few choices first keep the tree narrow.
    std::stable_sort(order_.begin(), order_.end(), [this](std::size_t a, std::size_t b) {
      return choices_[a].size() < choices_[b].size();
    });
    descend(0, least);
  }

  void list_choices(std::size_t p, double most_above) {
    PartMenu& menu = menus_[p];
    std::vector<Pick>& choices = choices_[p];
    choices.clear();
    const double least = menu.least(prices_);
    const auto add = [&](const Pick& pick) {
      if (pick.above <= most_above && std::isfinite(pick.above)) choices.push_back(pick);
    };
    for (std::size_t m = 0; m < menu.modes().size(); ++m) {
      const Mode& mode = menu.modes()[m];
      for (const std::size_t first : menu.uses()[mode.use[0]].deals) {
        if (!menu.is_open(first, prices_)) continue;
        const double above = mode.misfit_cost - least + menu.least(first, prices_);
        if (mode.use[1] == kNone) {
          add({m, {first, kNone}, {0, 0}, above});
          continue;
        }
        for (const std::size_t second : menu.uses()[mode.use[1]].deals) {
          if (menu.is_open(second, prices_))
            add({m, {first, second}, {0, 0}, above + menu.least(second, prices_)});
        }
      }
    }
    std::stable_sort(choices.begin(), choices.end(),
                     [](const Pick& a, const Pick& b) { return a.above < b.above; });
  }

  void descend(std::size_t i, double cost) {
    ++steps_;
    if (stopped()) return;
    if (i == order_.size()) {
      choose_lots(cost);
      return;
    }
    const std::size_t p = order_[i];
    for (const Pick& pick : choices_[p]) {
      if (!beats(cost + pick.above, threshold())) break;
      draft_.picks[p] = pick;
      descend(i + 1, cost + pick.above);
    }
  }

  // --- how many

  void choose_lots(double cost) {
    draft_.sign();
    if (beats(cost, draft_.most())) add_lots(0, cost);
  }

  // Lines in the order of the parts, two places each.
  void add_lots(std::size_t place, double cost) {
    ++steps_;
    if (stopped()) return;
    const std::size_t p = place / 2;
    if (p == menus_.size()) {
      draft_.offer();
      return;
    }
    Pick& pick = draft_.picks[p];
    const std::size_t deal = pick.deal[place % 2];
    if (deal == kNone) {
      add_lots(place + 1, cost);
      return;
    }
    const Source& source = menus_[p].source_of(deal);
    const std::vector<RatedLot>& lots = menus_[p].rated(deal, prices_);
    for (const RatedLot& rated : lots) {
      const double more = cost + (rated.cost - lots.front().cost);
      if (!beats(more, draft_.most())) break;
      pick.lot[place % 2] = rated.lot;
      const std::array<double, 2> before = draft_.take(source, source.lots[rated.lot]);
      if (within_ranges(source)) add_lots(place + 1, more);
      draft_.put_back(source, before);
    }
  }

  // Goods only grow, so a range once left is left for good; another region looks there.
  bool within_ranges(const Source& source) const {
    const auto within = [this](std::size_t s) {
      return s == kNone || range_[s] == kNone || draft_.goods(s) <= suppliers_[s].ranges[range_[s]].to;
    };
    return within(source.supplier[0]) && within(source.supplier[1]);
  }

  // --- first baskets, to compare with

  // Each part by itself, from these suppliers.
  void offer_each_alone(const std::vector<char>& open) {
    prices_.open = open;
    for (std::size_t p = 0; p < menus_.size(); ++p) {
      list_choices(p, 1e-9);
      if (choices_[p].empty()) return;
      draft_.picks[p] = with_least_lots(p, choices_[p].front());
    }
    draft_.offer_whole();
  }

  Pick with_least_lots(std::size_t p, Pick pick) {
    for (const std::size_t i : {0U, 1U}) {
      if (pick.deal[i] != kNone) pick.lot[i] = menus_[p].rated(pick.deal[i], prices_).front().lot;
    }
    return pick;
  }

  // The best basket with the pick of one part, or one lot, changed, over and over.
  void improve() {
    for (double before = kInfinite; !draft_.best().empty() && beats(draft_.best().front().net, before);) {
      before = draft_.best().front().net;
      for (std::size_t p = 0; p < menus_.size(); ++p) {
        std::vector<Pick> from = draft_.best().front().picks;
        list_choices(p, kInfinite);
        for (const Pick& pick : choices_[p]) {
          draft_.picks = from;
          draft_.picks[p] = with_least_lots(p, pick);
          draft_.offer_whole();
        }
        for (const std::size_t i : {0U, 1U}) {
          from = draft_.best().front().picks;
          const std::size_t deal = from[p].deal[i];
          if (deal == kNone) continue;
          for (std::size_t lot = 0; lot < menus_[p].source_of(deal).lots.size(); ++lot) {
            draft_.picks = from;
            draft_.picks[p].lot[i] = lot;
            draft_.offer_whole();
          }
        }
      }
    }
  }

  void start();
  // The bound at the start, unless it rests on a list that was cut off.
  double least_conceivable(double root) const {
    double least = 0;
    bool cut_off = false;
    for (const PartMenu& menu : menus_) {
      least += menu.floor();
      cut_off = cut_off || menu.cut_off();
    }
    return cut_off ? least : root;
  }

  double day_cost_;
  std::vector<BasketSupplier> suppliers_;
  std::vector<PartMenu> menus_;
  BasketDraft draft_;
  ShadowPrices prices_;
  std::vector<char> used_;          // by supplier
  std::vector<std::size_t> range_;  // by supplier; kNone: any
  std::vector<Region> regions_;
  bool regions_complete_ = true;
  bool lists_complete_ = true;
  std::vector<std::vector<Pick>> choices_;  // by part, by rising cost
  std::vector<std::size_t> order_;          // of the parts
  long steps_ = 0;
};

// Baskets from every set of suppliers if these are few, else from one, two or all.
void BasketFinder::start() {
  constexpr std::size_t kFewSuppliers = 6;
  const std::vector<char> permitted = prices_.open;
  std::vector<std::size_t> sellers;
  for (std::size_t s = 0; s < permitted.size(); ++s) {
    if (permitted[s] != 0) sellers.push_back(s);
  }
  const auto offer_from = [&](const std::vector<std::size_t>& chosen) {
    std::vector<char> open(permitted.size(), 0);
    for (const std::size_t s : chosen) open[s] = 1;
    offer_each_alone(open);
  };
  offer_from(sellers);
  if (sellers.size() <= kFewSuppliers) {
    for (std::size_t set = 1; set + 1 < (std::size_t{1} << sellers.size()); ++set) {
      std::vector<std::size_t> chosen;
      for (std::size_t k = 0; k < sellers.size(); ++k) {
        if (((set >> k) & 1U) != 0) chosen.push_back(sellers[k]);
      }
      offer_from(chosen);
    }
  } else {
    for (std::size_t i = 0; i < sellers.size(); ++i) {
      offer_from({sellers[i]});
      for (std::size_t k = i + 1; k < sellers.size(); ++k) offer_from({sellers[i], sellers[k]});
    }
  }
  prices_.open = permitted;
  improve();
}

}  // namespace

BasketSearch best_baskets(const Case& c, std::span<const PartWish> wishes, double day_cost,
                          const BasketLimits& limits, int wanted) {
  if (wanted < 1) throw std::invalid_argument("at least one basket must be wanted");
  return BasketFinder(c, wishes, day_cost, limits, wanted).run();
}

}  // namespace mendworth
