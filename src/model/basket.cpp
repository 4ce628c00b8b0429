#include "model/basket.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>
#include <stdexcept>

#include "model/basket_start.hpp"

// Branch and bound. A shadow price for a unit of goods at every supplier parts the problem: each part takes what is
// cheapest for it, and each supplier the amount of goods that leaves most; what both come to is a lower bound
// (Lagrangian relaxation: A. M. Geoffrion, Lagrangean relaxation for integer programming, Mathematical Programming
// Study 2, 1974). Prices climb along the subgradient with Polyak's step (M. Held, P. Wolfe, H. P. Crowder, Validation of
// subgradient optimization, Mathematical Programming 6, 1974). Branches say whether a supplier is used, and in which
// range its goods lie; the least bound is looked at first. Where few choices are left within the gap, all are tried.

namespace mendworth {
namespace {

constexpr std::int64_t kStepsOfPricing = 8;        // of one order, by supplier
constexpr double kFewCombinations = 3000;          // that are tried at once
constexpr std::int64_t kStepsAtOnce = 20'000'000;  // for a branch that may be put off
constexpr std::size_t kMostBranches = 300'000;

/// What is left open about a supplier.
struct Span {
  bool may_close = true;
  std::size_t low = 0, end = 0;  ///< ranges that its goods may lie in; none: closed
  [[nodiscard]] bool may_open() const { return low < end; }
  [[nodiscard]] bool is_open_question() const { return may_close ? may_open() : end - low > 1; }
};

struct Branch {
  double bound = 0;
  std::size_t number = 0;
  std::vector<Span> span;
  std::vector<double> price, wanted,
      offered;  ///< by supplier; goods the parts want and those the supplier would
};

struct LeastFirst {
  bool operator()(const Branch& a, const Branch& b) const {
    return a.bound < b.bound || (a.bound == b.bound && a.number < b.number);
  }
};

class BasketFinder {
 public:
  BasketFinder(const Case& c, std::span<const PartWish> wishes, double day_cost, const BasketLimits& limits,
               int wanted)
      : case_(c),
        day_cost_(day_cost),
        limits_(limits),
        draft_(suppliers_, menus_, day_cost, limits.parcel, static_cast<std::size_t>(wanted)) {
    for (std::size_t s = 0; s < c.suppliers.size(); ++s) {
      const bool right_one = !limits.only_supplier || static_cast<std::size_t>(*limits.only_supplier) == s;
      const bool in_time =
          !limits.most_wait_days || c.suppliers[s].lead_days.base() <= *limits.most_wait_days + 1e-9;
      suppliers_.emplace_back(c.suppliers[s], right_one && in_time, limits.parcel);
    }
    for (const PartWish& wish : wishes) {
      menus_.emplace_back(c, wish, suppliers_, limits.parcel, limits.most_looks);
      steps_ += menus_.back().steps();
    }
    double stake = 1;
    for (const PartMenu& menu : menus_) stake += menu.at_stake();
    rounding_ = 3e-15 * stake;
    tie_ = 3e-8 * stake;
    for (PartMenu& menu : menus_) menu.weigh_ties(TieWeights(stake));
    draft_.start();
  }

  BasketSearch run() {
    BasketSearch result;
    Branch root = start();
    if (std::isfinite(root.bound)) {
      if (beats(root.bound)) narrow(root);
      const double root_bound = root.bound;
      if (beats(root.bound)) enter(std::move(root));
      search();
      result.proved = lists_complete_ && least_left_ == not_to_be_had;
      double bound = std::min(draft_.least(), least_left_);
      if (!lists_complete_) bound = std::min(bound, root_bound);
      result.bound = result.proved ? bound : bound - tie_;
    }
    result.steps = steps_;
    result.best = draft_.finished(case_);
    if (result.best.empty() && result.proved) {
      result.bound = 0;
    } else if (result.proved) {
      result.bound = result.best.front().net();
    }
    if (std::any_of(menus_.begin(), menus_.end(), [](const PartMenu& menu) { return menu.cut_off(); })) {
      double least = 0;
      for (const PartMenu& menu : menus_) least += menu.floor();
      result.proved = false;
      result.bound = std::isfinite(least) ? std::min(result.bound, least) : 0;
    }
    return result;
  }

 private:
  bool beats(double bound) const { return bound < draft_.threshold() - rounding_; }
  bool stopped() const { return steps_ >= limits_.most_steps; }

  Branch start() {
    Branch root;
    for (const BasketSupplier& s : suppliers_) {
      root.span.push_back({true, 0, s.permitted ? s.ranges.size() : 0});
      root.price.push_back(s.slope < not_to_be_had ? s.slope : 0);
    }
    first_baskets(suppliers_, menus_, draft_, steps_);
    root.bound = climb(root, 1);
    return root;
  }

  // With a basket in hand no supplier's goods exceed what that costs, and most lots are out of question.
  void narrow(Branch& root) {
    const double most = draft_.threshold();
    if (most < not_to_be_had) {
      for (std::size_t s = 0; s < suppliers_.size(); ++s) {
        if (!suppliers_[s].permitted) continue;
        Branch without = root;
        without.price[s] = 0;
        const double rest = bound_of(without);
        if (std::isfinite(rest))
          suppliers_[s].end_at(std::max(0.0, 1.000001 * (most - rest) / suppliers_[s].slope), limits_.parcel);
      }
      root.bound = std::max(root.bound, climb(root, 60));
    }
    set_open(root);
    for (PartMenu& menu : menus_) {
      if (!menu.keep_within(prices_, most - root.bound + tie_)) lists_complete_ = false;
    }
  }

  // --- bounds

  void set_open(const Branch& branch) {
    prices_.price = branch.price;
    prices_.open.assign(suppliers_.size(), 0);
    for (std::size_t s = 0; s < suppliers_.size(); ++s) prices_.open[s] = branch.span[s].may_open() ? 1 : 0;
  }

  // Fills in what is wanted and offered at the branch's prices.
  double bound_of(Branch& branch) {
    set_open(branch);
    double cost = 0;
    double days = 0;
    branch.wanted.assign(suppliers_.size(), 0.0);
    branch.offered.assign(suppliers_.size(), 0.0);
    for (std::size_t s = 0; s < suppliers_.size(); ++s) {
      const Span& span = branch.span[s];
      const BasketSupplier& supplier = suppliers_[s];
      double least = span.may_close ? 0 : not_to_be_had;
      for (std::size_t r = span.low; r < span.end; ++r) {
        const double from = supplier.cost_from[r] - branch.price[s] * supplier.ranges[r].from;
        if (from < least) {
          least = from;
          branch.offered[s] = supplier.ranges[r].from;
        }
        if (supplier.cost_to[r] == not_to_be_had) {
          if (branch.price[s] > supplier.slope * (1 + 1e-12)) return -not_to_be_had;
          continue;
        }
        const double to = supplier.cost_to[r] - branch.price[s] * supplier.ranges[r].to;
        if (to < least) {
          least = to;
          branch.offered[s] = supplier.ranges[r].to;
        }
      }
      cost += least;
      if (!span.may_close) days = std::max(days, supplier.lead_days);
    }
    cost += day_cost_ * days + draft_.least_wait(prices_);
    picks_.clear();
    for (std::size_t p = 0; p < menus_.size(); ++p) {
      steps_ += menus_[p].size();
      picks_.push_back(menus_[p].least(prices_));
      const Pick& pick = picks_.back();
      cost += pick.cost;
      if (std::isinf(cost)) return cost;
      for (const std::size_t i : {0U, 1U}) {
        if (pick.deal[i] == kNone) continue;
        const Source& source = menus_[p].source_of(pick.deal[i]);
        const std::span<const double> goods = source.goods_of(pick.lot[i]);
        for (std::size_t k = 0; k < goods.size(); ++k) branch.wanted[source.supplier[k]] += goods[k];
      }
    }
    return cost;
  }

  // Improves the branch's prices; gives the best bound.
  double climb(Branch& branch, int rounds) {
    Branch best = branch;
    best.bound = -not_to_be_had;
    double stride = 1;
    int stuck = 0;
    for (int round = 0; round < rounds; ++round) {
      const double bound = bound_of(branch);
      if (bound == not_to_be_had) {
        branch.bound = bound;
        return bound;
      }
      if (bound > best.bound + rounding_) {
        best.price = branch.price;
        best.wanted = branch.wanted;
        best.offered = branch.offered;
        best.bound = bound;
        stuck = 0;
      } else if (++stuck == 2) {
        stride /= 2;
        stuck = 0;
      }
      if (bound > -not_to_be_had) {
        steps_ += kStepsOfPricing * static_cast<std::int64_t>(suppliers_.size());
        draft_.offer(picks_);
      }
      if (!beats(best.bound)) break;
      const double threshold = draft_.threshold();
      const double aim = threshold < not_to_be_had ? threshold : bound + 1 + 0.1 * std::abs(bound);
      double square = 0;
      for (std::size_t s = 0; s < suppliers_.size(); ++s) {
        const double more = branch.wanted[s] - branch.offered[s];
        if (branch.span[s].may_open()) square += more * more;
      }
      if (!(square > 1e-18) || !std::isfinite(bound)) break;
      const double step = stride * std::max(0.0, aim - bound) / square;
      for (std::size_t s = 0; s < suppliers_.size(); ++s) {
        if (!branch.span[s].may_open()) continue;
        branch.price[s] = std::max(0.0, branch.price[s] + step * (branch.wanted[s] - branch.offered[s]));
        const bool endless = branch.span[s].end == suppliers_[s].ranges.size() &&
                             suppliers_[s].cost_to.back() == not_to_be_had;
        if (endless) branch.price[s] = std::min(branch.price[s], suppliers_[s].slope);
      }
    }
    branch.price = best.price;
    branch.wanted = best.wanted;
    branch.offered = best.offered;
    branch.bound = best.bound;
    return best.bound;
  }

  // --- branches

  void enter(Branch branch) {
    branch.number = ++numbers_;
    open_.insert(std::move(branch));
  }

  void search() {
    while (!open_.empty()) {
      if (!beats(open_.begin()->bound)) open_.clear();
      if (open_.empty()) break;
      tell(open_.begin()->bound);
      if (stopped() || open_.size() > kMostBranches) {
        least_left_ = std::min(least_left_, open_.begin()->bound);
        break;
      }
      Branch branch = std::move(open_.extract(open_.begin()).value());
      std::size_t question = kNone;
      double most = -1;
      for (std::size_t s = 0; s < suppliers_.size(); ++s) {
        const double off = branch.price[s] * std::abs(branch.wanted[s] - branch.offered[s]);
        if (branch.span[s].is_open_question() && off > most) {
          most = off;
          question = s;
        }
      }
      if (question == kNone || combinations(branch) <= kFewCombinations) {
        if (!settle(branch, steps_ + kStepsAtOnce)) put_off_.push_back(std::move(branch));
      } else {
        split(branch, question);
      }
    }
    for (Branch& branch : put_off_) {
      if (!beats(branch.bound) || settle(branch, limits_.most_steps)) continue;
      least_left_ = std::min(least_left_, branch.bound);
    }
  }

  void tell(double bound) const {
    if (!limits_.progress) return;
    const double done = std::min(1.0, static_cast<double>(steps_) / static_cast<double>(limits_.most_steps));
    limits_.progress({done, draft_.least(), std::min(bound, draft_.least())});
  }

  void split(const Branch& branch, std::size_t s) {
    const Span span = branch.span[s];
    const auto child = [&](bool may_close, std::size_t low, std::size_t end) {
      Branch part = branch;
      part.span[s] = {may_close, low, end};
      climb(part, 10);
      part.bound = std::max(part.bound, branch.bound);
      if (beats(part.bound)) enter(std::move(part));
    };
    if (span.may_close) {
      child(true, 0, 0);
      child(false, span.low, span.end);
      return;
    }
    std::size_t middle = span.low;
    while (middle + 1 < span.end && suppliers_[s].ranges[middle].to <= branch.wanted[s]) ++middle;
    middle = std::min(middle + 1, span.end - 1);
    child(false, span.low, middle);
    child(false, middle, span.end);
  }

  // --- who supplies what

  void list_choices(std::size_t p, double most_above) {
    PartMenu& menu = menus_[p];
    steps_ += menu.size();
    const double least = menu.least(prices_).cost;
    const std::vector<double>& deal_cost = menu.least_of_deal();
    std::vector<Pick>& choices = choices_[p];
    choices.clear();
    const auto add = [&](std::size_t mode, std::size_t first, std::size_t second, double above) {
      if (above <= most_above && above < not_to_be_had)
        choices.push_back({mode, {first, second}, {0, 0}, above});
    };
    for (std::size_t m = 0; m < menu.modes().size(); ++m) {
      const Mode& mode = menu.modes()[m];
      for (const std::size_t first : menu.uses()[mode.use[0]].deals) {
        const double above = mode.beside - least + deal_cost[first];
        if (!(above <= most_above) && mode.use[1] == kNone) continue;
        if (mode.use[1] == kNone) {
          add(m, first, kNone, above);
        } else if (std::isfinite(above)) {
          for (const std::size_t second : menu.uses()[mode.use[1]].deals)
            add(m, first, second, above + deal_cost[second]);
        }
      }
    }
  }

  // Ways to choose who supplies what within the gap.
  double combinations(const Branch& branch) {
    set_open(branch);
    choices_.resize(menus_.size());
    double product = 1;
    for (std::size_t p = 0; p < menus_.size() && product <= 1e12; ++p) {
      list_choices(p, draft_.threshold() - branch.bound);
      product *= static_cast<double>(choices_[p].size());
    }
    return product;
  }

  // Tries all choices of a branch that the gap allows. False: the steps were not enough.
  bool settle(const Branch& branch, std::int64_t most_steps) {
    branch_ = &branch;
    most_steps_ = std::min(most_steps, limits_.most_steps);
    combinations(branch);
    order_.resize(menus_.size());
    rated_.resize(menus_.size());
    for (std::size_t p = 0; p < menus_.size(); ++p) {
      order_[p] = p;
      list_choices(p, draft_.threshold() - branch.bound);
      std::stable_sort(choices_[p].begin(), choices_[p].end(),
                       [](const Pick& a, const Pick& b) { return a.cost < b.cost; });
      rated_[p].resize(menus_[p].deals().size());
      for (Rated& rated : rated_[p]) rated.lots.clear();
    }
    // Parts with few choices first keep the tree narrow.
    std::stable_sort(order_.begin(), order_.end(), [this](std::size_t a, std::size_t b) {
      return choices_[a].size() < choices_[b].size();
    });
    picks_.resize(menus_.size());
    draft_.clear();
    choose(0, branch.bound);
    return steps_ < most_steps_;
  }

  void choose(std::size_t i, double cost) {
    steps_ += 4;
    if (steps_ >= most_steps_) return;
    if (i == order_.size()) {
      signature_ = draft_.signature_of(picks_);
      most_ = draft_.most(signature_);
      steps_ += kStepsOfPricing * static_cast<std::int64_t>(menus_.size());
      if (cost < most_ - rounding_) choose_lots(0, cost);
      return;
    }
    const std::size_t p = order_[i];
    for (const Pick& pick : choices_[p]) {
      if (!beats(cost + pick.cost)) break;
      picks_[p] = pick;
      choose(i + 1, cost + pick.cost);
    }
  }

  // --- how many

  struct RatedLot {
    double above = 0;
    std::size_t lot = 0;
  };
  struct Rated {
    std::vector<RatedLot> lots;  // by rising cost at the branch's prices; empty: not yet rated
  };

  const std::vector<RatedLot>& rated(std::size_t p, std::size_t deal) {
    std::vector<RatedLot>& lots = rated_[p][deal].lots;
    if (!lots.empty()) return lots;
    const std::size_t count = menus_[p].source_of(deal).lots.size();
    steps_ += 8 * static_cast<std::int64_t>(count);
    double least = not_to_be_had;
    for (std::size_t lot = 0; lot < count; ++lot) {
      lots.push_back({menus_[p].cost(deal, lot, prices_), lot});
      least = std::min(least, lots.back().above);
    }
    for (RatedLot& lot : lots) lot.above -= least;
    std::stable_sort(lots.begin(), lots.end(),
                     [](const RatedLot& a, const RatedLot& b) { return a.above < b.above; });
    return lots;
  }

  // Lines in the order of the parts, two places each.
  void choose_lots(std::size_t place, double cost) {
    steps_ += 4;
    if (steps_ >= most_steps_) return;
    const std::size_t p = place / 2;
    if (p == menus_.size()) {
      steps_ += kStepsOfPricing * static_cast<std::int64_t>(suppliers_.size() + menus_.size());
      const double net = draft_.order_cost(picks_) + draft_.beside(picks_);
      if (net < most_) {
        draft_.keep(picks_, net);
        most_ = draft_.most(signature_);
      }
      return;
    }
    const std::size_t deal = picks_[p].deal[place % 2];
    if (deal == kNone) {
      choose_lots(place + 1, cost);
      return;
    }
    const Source& source = menus_[p].source_of(deal);
    const std::size_t width = source.supplier.size();
    const std::vector<RatedLot>& lots = rated(p, deal);
    std::vector<double> before(width);
    for (std::size_t i = 0; i < width; ++i) before[i] = draft_.goods(source.supplier[i]);
    for (const RatedLot& rated : lots) {
      if (!(cost + rated.above < most_ - rounding_)) break;
      picks_[p].lot[place % 2] = rated.lot;
      bool within = true;
      for (std::size_t i = 0; i < width; ++i) {
        const std::size_t s = source.supplier[i];
        draft_.set_goods(s, before[i] + source.goods[rated.lot * width + i], 1);
        // Goods only grow, so a range once left is left for good; another branch looks there.
        within = within && draft_.goods(s) <= suppliers_[s].ranges[branch_->span[s].end - 1].to;
      }
      if (within) choose_lots(place + 1, cost + rated.above);
      for (std::size_t i = 0; i < width; ++i) draft_.set_goods(source.supplier[i], before[i], -1);
    }
  }

  const Case& case_;
  double day_cost_;
  const BasketLimits& limits_;
  std::vector<BasketSupplier> suppliers_;
  std::vector<PartMenu> menus_;
  BasketDraft draft_;
  double rounding_ = 0, tie_ = 0;
  ShadowPrices prices_;
  std::set<Branch, LeastFirst> open_;
  std::vector<Branch> put_off_;
  std::size_t numbers_ = 0;
  double least_left_ = not_to_be_had;  // of branches that were not searched to the end
  bool lists_complete_ = true;
  std::int64_t steps_ = 0, most_steps_ = 0;
  const Branch* branch_ = nullptr;  // that is being settled
  std::vector<Pick> picks_;
  std::vector<std::vector<Pick>> choices_;  // by part; their cost is that above the least
  std::vector<std::vector<Rated>> rated_;   // by part and deal
  std::vector<std::size_t> order_;          // of the parts
  Signature signature_;
  double most_ = 0;
};

}  // namespace

BasketSearch best_baskets(const Case& c, std::span<const PartWish> wishes, double day_cost,
                          const BasketLimits& limits, int wanted) {
  if (wanted < 1) throw std::invalid_argument("at least one basket must be wanted");
  BasketSearch search = BasketFinder(c, wishes, day_cost, limits, wanted).run();
  for (Basket& basket : search.best) {
    std::stable_sort(basket.items.begin(), basket.items.end(),
                     [](const OrderItem& a, const OrderItem& b) { return a.part < b.part; });
  }
  return search;
}

}  // namespace mendworth
