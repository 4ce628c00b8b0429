#include "answers/bulk_policies.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <set>

#include "answers/bulk_purchase.hpp"
#include "futures/worker.hpp"
#include "model/pricing.hpp"
#include "numeric/discount.hpp"
#include "numeric/learning.hpp"
#include "numeric/root.hpp"

namespace mendworth {

const char* name_of(Policy policy) noexcept {
  switch (policy) {
    case Policy::run_to_failure: return "run-to-failure";
    case Policy::mates_at_opening: return "mates-at-opening";
    case Policy::campaign: return "campaign";
  }
  return "";
}

namespace {

constexpr std::array<Policy, 3> all_policies = {Policy::run_to_failure, Policy::mates_at_opening,
                                                Policy::campaign};
constexpr double lowest_shape = 1, highest_shape = 4;
constexpr int shapes_scanned = 13;
constexpr double shape_width = 0.003;  ///< of the scanned range, to which a turn is narrowed
constexpr int most_root_steps = 12;
constexpr int most_lives = 60'000;  ///< places times futures
constexpr int fewest_futures = 32;
constexpr double told_apart = 2;      ///< standard errors of a difference
constexpr double endless_rest = 1e6;  ///< years
constexpr int most_renewals = 200;    ///< of one place, against lives of next to nothing

/// An opening of one device.
struct Opening {
  double time = 0;
  bool planned = false;
  std::vector<std::size_t> renewed{};  ///< groups, one entry for each place
};

/// What happens, discounted where it stands for money.
struct FleetTally {
  double openings = 0, unplanned = 0;
  double labour = 0, risk = 0, downtime = 0;
  std::vector<double> pieces;  ///< per part
  std::vector<double> now;     ///< of these, at once
};

/// A policy through all futures.
struct PolicyRun {
  PolicyCost cost;
  std::vector<double> totals;  ///< per future
};
using PolicyRuns = std::array<PolicyRun, all_policies.size()>;

/// What one policy costs more than another, over the same futures.
struct Difference {
  double mean = 0, error = 0;
  [[nodiscard]] bool is_told_apart() const noexcept { return std::abs(mean) > told_apart * error; }
};

Difference difference_of(const PolicyRun& a, const PolicyRun& b) {
  const MeanError d = mean_difference(a.totals, b.totals);
  return {.mean = d.mean, .error = d.error};
}

/// The cheapest policy of those that can be done.
std::optional<std::size_t> cheapest_of(const PolicyRuns& runs) {
  std::optional<std::size_t> best;
  for (std::size_t i = 0; i < runs.size(); ++i) {
    if (!runs[i].cost.can_be_done) continue;
    if (!best || runs[i].cost.total < runs[*best].cost.total) best = i;
  }
  return best;
}

/// The fleet's devices in one of the two states that they are in, with the lives of the whole fleet.
class Devices {
 public:
  Devices(const DeviceModel& fleet, const Case& c, bool failed, std::uint64_t seed, ModelCache& cache)
      : model_(fleet),
        book_(c, std::vector<int>(c.parts.size(), 0)),
        items_(c, 0),
        chains_(c, items_, unit_costs(c, items_, book_), cache) {
    Case state = c;
    for (PositionGroup& group : state.positions) {
      if (!failed) group.failed = 0;
    }
    model_.positions = positions_of(state);
    worker_.emplace(Scene{model_, items_, book_, chains_},
                    WorkerSettings{.seed = seed, .draw_prices = false});
  }
  Devices(const Devices&) = delete;
  Devices& operator=(const Devices&) = delete;

  [[nodiscard]] const std::vector<Position>& positions() const noexcept { return model_.positions; }
  /// A number of the fleet in one future.
  [[nodiscard]] Future& turn_to(std::size_t future, int device) {
    if (at_ == std::pair(future, device)) return *future_;
    if (!at_ || at_->first != future) future_ = &worker_->begin(static_cast<std::uint64_t>(future));
    future_->turn_to_device(static_cast<std::uint64_t>(device));
    at_ = {future, device};
    return *future_;
  }

 private:
  DeviceModel model_;
  OrderBook book_;
  Items items_;
  Chains chains_;
  std::optional<Worker> worker_;
  std::optional<std::pair<std::size_t, int>> at_;
  Future* future_ = nullptr;
};

/// Unit costs of what happens, as one device's weighing has them.
class UnitCosts {
 public:
  explicit UnitCosts(const Case& c)
      : book_(c, std::vector<int>(c.parts.size(), 0)), items_(c, 0), unit_(unit_costs(c, items_, book_)) {
    bool any = false;
    for (std::size_t r = 0; r < c.replacements.size(); ++r) {
      if (!c.replacements[r].price) continue;
      const double cost = at(items_.devices[r].device[Phase::later]).total();
      another_device_ = any ? std::min(another_device_, cost) : cost;
      any = true;
    }
  }

  [[nodiscard]] double case_work() const { return at(items_.case_work).labour; }
  [[nodiscard]] UnitCost visit() const {
    UnitCost cost = at(items_.visit[Phase::later]);
    cost.labour = at(items_.visit_work[Phase::later]).labour;
    return cost;
  }
  [[nodiscard]] double work(std::size_t group) const { return at(items_.work[group][Phase::later]).labour; }
  [[nodiscard]] double mend() const { return at(items_.mend[Phase::later]).total(); }
  /// A device that is lost at an opening: the cheapest one in its place with its set-up and the wait for it.
  [[nodiscard]] double loss_of_device() const {
    return another_device_ + at(items_.keepsake).total() + at(items_.scrap).total();
  }

 private:
  [[nodiscard]] const UnitCost& at(int item) const { return unit_[static_cast<std::size_t>(item)]; }

  OrderBook book_;
  Items items_;
  std::vector<UnitCost> unit_;
  double another_device_ = 0;
};

/// The fleet under its policies, in all futures of its laws.
class FleetPlay {
 public:
  FleetPlay(const Case& c, const FleetSize& size, const DeviceModel& fleet, double years, int futures,
            std::uint64_t seed, ModelCache& cache)
      : c_(c),
        size_(size),
        years_(years),
        futures_(futures),
        unit_(c),
        failed_(fleet, c, true, seed, cache),
        working_(fleet, c, false, seed, cache) {}

  [[nodiscard]] PolicyRuns all() {
    std::array<std::vector<FleetTally>, all_policies.size()> tallies;
    for (std::size_t f = 0; f < static_cast<std::size_t>(futures_); ++f) {
      std::array<std::vector<Opening>, all_policies.size()> openings;
      for (int d = 0; d < size_.devices; ++d) {
        for (std::size_t i = 0; i < all_policies.size(); ++i) open_device(all_policies[i], f, d, openings[i]);
      }
      for (std::size_t i = 0; i < all_policies.size(); ++i) {
        std::stable_sort(openings[i].begin(), openings[i].end(),
                         [](const Opening& a, const Opening& b) { return a.time < b.time; });
        tallies[i].push_back(tally_of(openings[i]));
      }
    }
    PolicyRuns runs;
    for (std::size_t i = 0; i < runs.size(); ++i) runs[i] = run_of(all_policies[i], tallies[i]);
    return runs;
  }

 private:
  [[nodiscard]] PolicyRun run_of(Policy policy, const std::vector<FleetTally>& tallies) const {
    const auto count = static_cast<double>(tallies.size());
    PolicyRun run;
    PolicyCost& cost = run.cost;
    cost.policy = policy;
    std::vector<double> pieces(c_.parts.size(), 0.0);
    for (const FleetTally& t : tallies) {
      cost.openings += t.openings / count;
      cost.unplanned += t.unplanned / count;
      cost.labour += t.labour / count;
      cost.risk += t.risk / count;
      cost.downtime += t.downtime / count;
      for (std::size_t p = 0; p < pieces.size(); ++p) pieces[p] += t.pieces[p] / count;
    }
    const Supply supply = supply_of(pieces, tallies.front().now);
    cost.can_be_done = supply.suffices;
    cost.downtime += supply.wait;
    for (std::size_t p = 0; p < pieces.size(); ++p) {
      cost.pieces += pieces[p];
      cost.parts += supply.each[p] * pieces[p];
    }
    cost.total = cost.labour + cost.risk + cost.downtime + cost.parts;
    for (const FleetTally& t : tallies) {
      double total = t.labour + t.risk + t.downtime + supply.wait;
      for (std::size_t p = 0; p < pieces.size(); ++p) total += supply.each[p] * t.pieces[p];
      run.totals.push_back(total);
    }
    cost.error = mean_of(run.totals).error;
    return run;
  }

  /// Where the pieces come from.
  struct Supply {
    std::vector<double> each;  ///< per part: landed cost of a piece
    double wait = 0;           ///< of the devices that have failed, in money
    bool suffices = true;      ///< what is wanted at once can be had
  };

  /// The pieces expected to be used, bought in one order; of those that offers do not have now, the later ones are
  /// taken to cost as much.
  [[nodiscard]] Supply supply_of(const std::vector<double>& pieces, const std::vector<double>& now) const {
    Supply supply;
    supply.each.assign(pieces.size(), 0.0);
    std::vector<Need> needs;
    for (std::size_t p = 0; p < pieces.size(); ++p) {
      if (pieces[p] <= 0 || c_.parts[p].candidates.empty()) continue;
      int wanted = std::max(1, static_cast<int>(std::ceil(pieces[p] - 1e-9)));
      if (const auto most = most_to_be_had(c_.parts[p].candidates.front())) {
        supply.suffices = supply.suffices && *most > 0 && now[p] <= *most;
        wanted = std::min(wanted, *most);
      }
      if (wanted > 0) needs.push_back({static_cast<int>(p), 0, wanted});
    }
    const double day_cost = c_.downtime.per_day.base() * size_.failed;
    const auto order =
        needs.empty() ? std::nullopt : cheapest_order(c_, needs, day_cost, Parcel::with_other_goods);
    if (!order) {
      supply.suffices = supply.suffices && needs.empty();
      return supply;
    }
    supply.wait = order->cost.wait_days * day_cost;
    double goods = 0;
    for (const OrderItem& item : order->items) goods += goods_of(item);
    for (const OrderItem& item : order->items) {
      const double share =
          goods > 0 ? goods_of(item) / goods : 1.0 / static_cast<double>(order->items.size());
      supply.each[static_cast<std::size_t>(item.part)] += share * order->cost.total;
    }
    for (const Need& need : needs) {
      const auto p = static_cast<std::size_t>(need.part);
      supply.each[p] /= std::clamp(pieces[p], 1.0, static_cast<double>(need.pieces));
    }
    return supply;
  }

  [[nodiscard]] double goods_of(const OrderItem& item) const {
    return line_price(offer_of(c_, item), item.quantity) * supplier_of(c_, item).exchange_rate.base();
  }

  /// The openings of one device until the end.
  void open_device(Policy policy, std::size_t number, int device, std::vector<Opening>& out) {
    const bool failed = device < size_.failed;
    Devices& devices = failed ? failed_ : working_;
    Future& future = devices.turn_to(number, device);
    const auto& positions = devices.positions();
    std::vector<double> fails = future.failures();
    for (std::size_t i = 0; i < fails.size(); ++i) {
      if (positions[i].state == Position::State::failed) fails[i] = 0;
    }
    std::vector<int> used(fails.size(), 0);
    const auto renew = [&](std::size_t i, double time, Opening& opening) {
      opening.renewed.push_back(static_cast<std::size_t>(positions[i].group));
      const int first = future.physics().first_candidate[static_cast<std::size_t>(positions[i].part)];
      fails[i] = used[i] == most_renewals
                     ? years_
                     : time + future.renewal(static_cast<int>(i), used[i], first).life_years;
      ++used[i];
    };
    if (policy == Policy::campaign) {
      Opening opening{.time = 0, .planned = !failed};
      for (std::size_t i = 0; i < fails.size(); ++i) renew(i, 0, opening);
      out.push_back(std::move(opening));
    }
    while (true) {
      const double next = *std::min_element(fails.begin(), fails.end());
      if (next >= years_) return;
      Opening opening{.time = next};
      for (std::size_t i = 0; i < fails.size(); ++i) {
        if (policy == Policy::mates_at_opening || fails[i] <= next) renew(i, next, opening);
      }
      out.push_back(std::move(opening));
    }
  }

  [[nodiscard]] FleetTally tally_of(const std::vector<Opening>& openings) const {
    FleetTally tally;
    tally.pieces.assign(c_.parts.size(), 0.0);
    tally.now.assign(c_.parts.size(), 0.0);
    tally.labour = unit_.case_work();
    const double rate = c_.horizon.discount_rate.base();
    const Risks& risks = c_.risks;
    int opened = 0;
    int done = c_.labour.done_before;
    for (const Opening& opening : openings) {
      const double worth = discount_factor(rate, opening.time);
      tally.openings += 1;
      double labour = unit_.visit().labour * learned(++opened);
      double no_mend = std::log1p(-risks.opening_mendable.base());
      double no_loss = std::log1p(-risks.opening_write_off.base());
      for (const std::size_t g : opening.renewed) {
        const PositionGroup& group = c_.positions[g];
        const auto part = static_cast<std::size_t>(group.part);
        labour += unit_.work(g) * learned(++done);
        if (group.joints > 0) {
          no_mend += group.joints * std::log1p(-risks.joint_mendable.base());
          no_loss += group.joints * std::log1p(-risks.joint_write_off.base());
        }
        tally.pieces[part] += 1;
        if (opening.time == 0) tally.now[part] += 1;
      }
      tally.labour += worth * labour;
      tally.risk += worth * (unit_.visit().money - std::expm1(no_mend) * unit_.mend() -
                             std::expm1(no_loss) * unit_.loss_of_device());
      if (opening.planned) continue;
      tally.unplanned += 1;
      tally.downtime += worth * unit_.visit().downtime;
    }
    return tally;
  }

  [[nodiscard]] double learned(int n) const {
    const auto slot = static_cast<std::size_t>(n);
    while (learned_.size() <= slot) {
      learned_.push_back(learned_.empty()
                             ? 1.0
                             : learning_factor(static_cast<int>(learned_.size()),
                                               c_.labour.learning_rate.base(), c_.labour.learning_floor));
    }
    return learned_[slot];
  }

  const Case& c_;
  FleetSize size_;
  double years_;
  int futures_;
  UnitCosts unit_;
  Devices failed_, working_;
  mutable std::vector<double> learned_;  // by n
};

/// The case with every shape, of originals and of new pieces, multiplied by `factor`.
Case with_shapes(const Case& c, double factor) {
  Case changed = c;
  for (Part& part : changed.parts) {
    part.life.shape = part.life.shape.scaled(factor);
    for (Candidate& candidate : part.candidates) candidate.life.shape = candidate.life.shape.scaled(factor);
  }
  return changed;
}

/// The policies at one shape after another, always through the same luck: at the case's own it is the case itself.
class ShapeScan {
 public:
  ShapeScan(const Case& c, const FleetSize& size, double years, int futures, std::uint64_t seed,
            double shape_now)
      : c_(c), size_(size), years_(years), futures_(futures), seed_(seed), shape_now_(shape_now) {}

  [[nodiscard]] PolicyRuns runs(double shape) const {
    if (shape == shape_now_) return runs_of(c_);
    return runs_of(with_shapes(c_, shape / shape_now_));
  }

  void fill(FleetPolicies& answer, const PolicyRuns& now) const {
    answer.shape_low = std::min(lowest_shape, shape_now_);
    answer.shape_high = std::max(highest_shape, shape_now_);
    std::set<double> shapes{shape_now_};
    for (int i = 0; i < shapes_scanned; ++i)
      shapes.insert(answer.shape_low + (answer.shape_high - answer.shape_low) * i / (shapes_scanned - 1));
    std::optional<AtShape> before;
    for (const double shape : shapes) {
      AtShape here{shape, shape == shape_now_ ? now : runs(shape)};
      // Run to failure wants the fewest pieces.
      here.best = cheapest_of(here.runs).value_or(0);
      if (!before) {
        answer.at_low = all_policies[here.best];
      } else if (here.best != before->best) {
        answer.turns.push_back(turn_between(*before, here, answer.shape_high - answer.shape_low));
      }
      answer.at_high = all_policies[here.best];
      before = std::move(here);
    }
  }

 private:
  struct AtShape {
    double shape = 0;
    PolicyRuns runs;
    std::size_t best = 0;
  };

  [[nodiscard]] PolicyRuns runs_of(const Case& c) const {
    // Policies look after the positions for so long; a device whose rest ends is followed by one like it.
    Case until = c;
    until.horizon.years = Quantity::exactly(years_);
    until.rest.remaining_years = Quantity::exactly(endless_rest);
    ModelCache cache;
    return FleetPlay(until, size_, fleet_model(until, size_, cache), years_, futures_, seed_, cache).all();
  }

  [[nodiscard]] PolicyTurn turn_between(const AtShape& low, const AtShape& high, double range) const {
    const std::size_t below = low.best, above = high.best;
    const auto crossings = find_crossings(
        [&](double shape) {
          const PolicyRuns at = runs(shape);
          return at[below].cost.total - at[above].cost.total;
        },
        low.shape, high.shape, 2, shape_width * range / (high.shape - low.shape), most_root_steps);
    // The error of the difference, over how fast the difference changes.
    const Difference from = difference_of(low.runs[below], low.runs[above]);
    const Difference to = difference_of(high.runs[below], high.runs[above]);
    const double change = std::abs(to.mean - from.mean);
    const double error = std::max(from.error, to.error) * (high.shape - low.shape);
    return {.shape = crossings.at.empty() ? high.shape : crossings.at.front(),
            .error = error < range * change ? error / change : range,
            .below = all_policies[below],
            .above = all_policies[above]};
  }

  const Case& c_;
  FleetSize size_;
  double years_;
  int futures_;
  std::uint64_t seed_;
  double shape_now_;
};

int places_in(const Case& c) {
  int places = 0;
  for (const PositionGroup& group : c.positions) places += group.count;
  return places;
}

}  // namespace

FleetPolicies policies_of(const Case& c, const FleetSize& size, double years, int futures,
                          std::uint64_t seed) {
  FleetPolicies answer;
  answer.years = years;
  for (const PositionGroup& group : c.positions) {
    if (group.failed == 0) continue;
    const Part& part = c.parts[static_cast<std::size_t>(group.part)];
    answer.shape_now = part.life.shape.base();
    answer.shape_part = part.name;
    break;
  }
  const double places = static_cast<double>(places_in(c)) * size.devices;
  const int affordable = static_cast<int>(std::clamp(most_lives / places, 1.0 * fewest_futures, 1e6));
  const ShapeScan scan(c, size, years, std::min(futures, affordable), seed, answer.shape_now);
  PolicyRuns runs = scan.runs(answer.shape_now);
  if (const auto cheapest = cheapest_of(runs)) {
    runs[*cheapest].cost.cheapest = true;
    for (std::size_t i = 0; i < runs.size(); ++i) {
      if (i == *cheapest) continue;
      const Difference more = difference_of(runs[i], runs[*cheapest]);
      runs[i].cost.more = more.mean;
      runs[i].cost.more_error = more.error;
      runs[i].cost.equal = runs[i].cost.can_be_done && !more.is_told_apart();
    }
    scan.fill(answer, runs);
  }
  for (PolicyRun& run : runs) answer.policies.push_back(run.cost);
  return answer;
}

}  // namespace mendworth
