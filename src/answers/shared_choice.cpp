#include "answers/shared_choice.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <map>
#include <numeric>

namespace mendworth {
namespace {

constexpr std::int64_t steps_of_all = most_basket_steps;  // of all baskets together
constexpr std::size_t most_suppliers_by_subset = 8;
constexpr double even_part = 1e-9;

class RepairChooser {
 public:
  /// `may`: the jobs that may be repaired.
  RepairChooser(const std::vector<OrderJob>& jobs, const SharedShop& shop, int most_orders,
                const std::vector<char>& may)
      : jobs_(jobs), shop_(shop), most_orders_(static_cast<std::size_t>(most_orders)), forced_(may) {
    for (std::size_t j = 0; j < jobs.size(); ++j) {
      if (may[j] == 0 || jobs[j].must_repair) continue;
      forced_[j] = 0;
      open_.push_back(j);
    }
    set_up_bounds(may);
  }

  SharedChoice run() {
    SharedChoice choice;
    best_ = forced_;
    least_ = cost_of(forced_);
    climb(forced_);
    climb(with_open(forced_,
                    [&](std::size_t j) { return jobs_[j].alone && jobs_[j].alone->net() < jobs_[j].value; }));
    climb(with_open(forced_, [](std::size_t) { return true; }));
    std::stable_sort(open_.begin(), open_.end(), [&](std::size_t a, std::size_t b) {
      return jobs_[a].value - least_cost_.back()[a] > jobs_[b].value - least_cost_.back()[b];
    });
    std::vector<char> chosen = forced_;
    branch(chosen, 0);
    choice.chosen = best_;
    choice.search = shop_.search(best_, {});
    choice.cost = least_;
    if (!choice.search.baskets.best.empty())
      choice.cost = std::min(least_, choice.search.baskets.best.front().net() - value_of(best_));
    choice.bound = std::min(choice.cost, least_left_);
    if (choice.search.any_left_out) {
      choice.bound = std::min(choice.bound, bound_of(best_, open_.size()));
    } else if (choice.search.baskets.proved) {
      choice.bound = std::min(choice.bound, choice.cost);
    } else {
      choice.bound = std::min(choice.bound, choice.search.baskets.bound - value_of(best_));
    }
    choice.proved = choice.bound >= choice.cost - even_part * std::max(1.0, std::abs(choice.cost));
    if (choice.proved) choice.bound = choice.cost;
    return choice;
  }

 private:
  using Set = std::vector<char>;
  struct Priced {
    double cost = not_to_be_had;   // less the value of the repairs
    double bound = not_to_be_had;  // no basket costs less
  };

  template <class Wanted>
  Set with_open(Set set, Wanted wanted) const {
    for (const std::size_t j : open_) {
      if (wanted(j)) set[j] = 1;
    }
    return set;
  }
  double value_of(const Set& set) const {
    double value = 0;
    for (std::size_t j = 0; j < jobs_.size(); ++j) value += set[j] != 0 ? jobs_[j].value : 0;
    return value;
  }

  bool stopped() const { return known_.size() >= most_orders_ || steps_ >= steps_of_all; }

  const Priced& price(const Set& set) {
    const auto [entry, is_new] = known_.try_emplace(set);
    Priced& priced = entry->second;
    if (!is_new) return priced;
    if (std::none_of(set.begin(), set.end(), [](char c) { return c != 0; })) {
      priced = {0, 0};
      return priced;
    }
    const SharedShop::Search found = shop_.search(set, effort_of_one_set(jobs_.size()));
    const BasketSearch& search = found.baskets;
    steps_ += search.steps;
    const double value = value_of(set);
    if (!search.best.empty()) priced.cost = search.best.front().net() - value;
    if (found.any_left_out) {
      priced.bound = bound_of(set, open_.size());
    } else if (!search.best.empty() || !search.proved) {
      priced.bound = (search.proved ? search.best.front().net() : search.bound) - value;
    }
    return priced;
  }
  double cost_of(const Set& set) { return price(set).cost; }

  /// Whether it is the best so far.
  bool take(const Set& set) {
    const double cost = cost_of(set);
    if (!(cost < not_to_be_had)) return false;
    const double even = even_part * std::max(1.0, std::abs(cost));
    const auto repairs = [](const Set& s) { return std::accumulate(s.begin(), s.end(), 0); };
    if (!(cost < least_ - even || (cost <= least_ + even && repairs(set) > repairs(best_)))) return false;
    least_ = cost;
    best_ = set;
    return true;
  }

  /// One job more or one less, or one for another, as long as that is better.
  void climb(Set set) {
    take(set);
    double least = cost_of(set);
    for (bool better = true; better && !stopped();) {
      better = false;
      for (const std::size_t j : open_) {
        if (stopped()) return;
        Set other = set;
        other[j] = other[j] != 0 ? char{0} : char{1};
        const double cost = cost_of(other);
        if (!(cost < least - even_part)) continue;
        least = cost;
        set = other;
        better = true;
        take(set);
      }
    }
  }

  // --- bounds

  void set_up_bounds(const Set& may) {
    const std::size_t suppliers = shop_.shop().suppliers.size();
    const bool few = suppliers <= most_suppliers_by_subset;
    const unsigned sets = few ? 1U << static_cast<unsigned>(suppliers) : 1U;
    for (unsigned set = 0; set < sets; ++set) {
      // None of them: all is in the drawer or in devices. With too many suppliers for that any may send free parcels.
      const unsigned from = few ? set : ~0U;
      double parcels = 0;
      for (std::size_t s = 0; few && s < suppliers; ++s) {
        if ((set >> static_cast<unsigned>(s) & 1U) != 0) parcels += shop_.least_parcel(s, may);
      }
      parcels_.push_back(parcels);
      least_cost_.emplace_back(jobs_.size(), not_to_be_had);
      for (std::size_t j = 0; j < jobs_.size(); ++j) {
        if (jobs_[j].can_repair) least_cost_.back()[j] = shop_.least_cost(j, from);
      }
    }
  }

  /// No set with these of the open jobs before `next` as they are in `chosen` costs less.
  double bound_of(const Set& chosen, std::size_t next) const {
    double least = 0;
    const bool any = std::any_of(chosen.begin(), chosen.end(), [](char c) { return c != 0; });
    bool first = true;
    for (std::size_t set = 0; set < least_cost_.size(); ++set) {
      double cost = parcels_[set];
      for (std::size_t j = 0; j < jobs_.size(); ++j) {
        if (chosen[j] != 0) cost += least_cost_[set][j] - jobs_[j].value;
      }
      for (std::size_t i = next; i < open_.size(); ++i)
        cost += std::min(0.0, least_cost_[set][open_[i]] - jobs_[open_[i]].value);
      least = first ? cost : std::min(least, cost);
      first = false;
    }
    return any ? least : std::min(0.0, least);
  }

  void branch(Set& chosen, std::size_t next) {
    const double bound = bound_of(chosen, next);
    if (least_ < not_to_be_had && bound >= least_ + even_part * std::max(1.0, std::abs(least_))) return;
    if (stopped()) {
      least_left_ = std::min(least_left_, bound);
      return;
    }
    if (next < open_.size()) {
      const std::size_t j = open_[next];
      for (const char repaired : {char{1}, char{0}}) {
        chosen[j] = repaired;
        branch(chosen, next + 1);
      }
      chosen[j] = 0;
      return;
    }
    take(chosen);
    least_left_ = std::min(least_left_, price(chosen).bound);
  }

  const std::vector<OrderJob>& jobs_;
  const SharedShop& shop_;
  std::size_t most_orders_;
  Set forced_;
  std::vector<std::size_t> open_;                // jobs that may be repaired or not
  std::vector<std::vector<double>> least_cost_;  // by set of suppliers and job
  std::vector<double> parcels_;                  // by set of suppliers
  std::map<Set, Priced> known_;
  std::int64_t steps_ = 0;
  Set best_;
  double least_ = not_to_be_had;
  double least_left_ = not_to_be_had;
};

}  // namespace

SharedShop::Effort effort_of_one_set(std::size_t jobs) {
  constexpr std::size_t few_jobs = 16, looks_of_many = 1'000'000, least_looks = 500;
  const SharedShop::Effort whole;
  return {.most_steps = whole.most_steps / 20,
          .most_looks =
              jobs <= few_jobs ? whole.most_looks : std::max(least_looks, looks_of_many / (jobs * jobs))};
}

SharedChoice choose_repairs(const std::vector<OrderJob>& jobs, const SharedShop& shop, int most_orders) {
  std::vector<char> may;
  std::vector<std::size_t> given_up;
  for (const OrderJob& job : jobs) may.push_back(job.can_repair ? 1 : 0);
  // Jobs that must be repaired are given up, the last first, until the rest can be had.
  for (std::size_t j = jobs.size();;) {
    SharedChoice choice = RepairChooser(jobs, shop, most_orders, may).run();
    const bool had = std::isfinite(choice.cost);
    while (!had && j > 0 && (may[j - 1] == 0 || !jobs[j - 1].must_repair)) --j;
    if (had || j == 0) {
      choice.given_up = std::move(given_up);
      return choice;
    }
    given_up.push_back(--j);
    may[j] = 0;
  }
}

}  // namespace mendworth
