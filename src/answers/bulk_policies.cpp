#include "answers/bulk_policies.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "answers/bulk_ladder.hpp"
#include "model/pricing.hpp"
#include "numeric/discount.hpp"
#include "numeric/learning.hpp"
#include "numeric/random.hpp"
#include "numeric/root.hpp"

namespace mendworth {

const char* name_of(Policy policy) noexcept {
  switch (policy) {
    case Policy::run_to_failure: return "run-to-failure";
    case Policy::mates_at_opening: return "mates-at-opening";
    case Policy::campaign: break;
  }
  return "campaign";
}

namespace {

constexpr std::array<Policy, 3> all_policies = {Policy::run_to_failure, Policy::mates_at_opening,
                                                Policy::campaign};
constexpr double lowest_shape = 1, highest_shape = 4;
constexpr int shapes_scanned = 13;
constexpr double shape_width = 0.003;  ///< of the scanned range, to which a turn is narrowed
constexpr int most_root_steps = 12;
constexpr int most_lives_scanned = 60'000;  ///< places times futures, for each shape
constexpr int fewest_futures = 32;
constexpr int most_renewals = 200;           ///< of one place, against lives of next to nothing
constexpr std::uint64_t first_life = 1'000;  ///< of the random blocks, behind those of the laws

/// A place of one device, in one of the two states that devices are in.
struct Place {
  std::size_t group = 0;
  enum class State { failed, original, renewed } state = State::original;
};

/// An opening of one device.
struct Opening {
  double time = 0;
  bool planned = false;
  std::vector<std::size_t> renewed{};  ///< groups, one entry for each place
};

/// What happens, discounted where it stands for money.
struct Tally {
  double openings = 0, unplanned = 0;
  double labour = 0, risk = 0, downtime = 0;
  std::vector<double> pieces;  ///< per part
};

std::vector<Place> places_of(const Case& c, bool failed) {
  std::vector<Place> places;
  for (std::size_t g = 0; g < c.positions.size(); ++g) {
    const PositionGroup& group = c.positions[g];
    for (int i = 0; i < group.count; ++i) {
      Place place{.group = g};
      if (failed && i < group.failed) {
        place.state = Place::State::failed;
      } else if (i >= group.count - group.renewed) {
        place.state = Place::State::renewed;
      }
      places.push_back(place);
    }
  }
  return places;
}

/// The cost of a device that is lost at an opening.
double loss_of_device(const Case& c) {
  double least = 0;
  bool any = false;
  for (const auto& replacement : c.replacements) {
    if (!replacement.price) continue;
    const double price = purchase_price(replacement);
    least = any ? std::min(least, price) : price;
    any = true;
  }
  return least + c.device.keepsake.base() - c.device.scrap.base();
}

/// The fleet under its policies, in all futures of its laws.
class FleetPlay {
 public:
  FleetPlay(const Case& c, const Fleet& fleet, double years, std::uint64_t seed)
      : c_(c), fleet_(fleet), years_(years), random_(seed) {
    minute_ = c.labour.rate_per_hour.base() / 60.0;
    loss_ = loss_of_device(c);
    for (const auto& item : c.consumables) consumables_ += item.price.base() * item.chance.base();
    for (const Part& part : c.parts) {
      wait_days_ =
          std::max(wait_days_, part.candidates.empty() ? 0.0 : usual_lead_days(c, index_of(part), 0));
    }
    failed_places_ = places_of(c, true);
    working_places_ = places_of(c, false);
  }

  [[nodiscard]] PolicyCost cost_of(Policy policy) {
    std::vector<Tally> tallies;
    const auto count = static_cast<double>(fleet_.futures().size());
    PolicyCost cost{.policy = policy};
    std::vector<double> pieces(c_.parts.size(), 0.0);
    for (std::size_t f = 0; f < fleet_.futures().size(); ++f) {
      tallies.push_back(play(policy, f));
      const Tally& t = tallies.back();
      cost.openings += t.openings / count;
      cost.unplanned += t.unplanned / count;
      cost.labour += t.labour / count;
      cost.risk += t.risk / count;
      cost.downtime += t.downtime / count;
      for (std::size_t p = 0; p < pieces.size(); ++p) pieces[p] += t.pieces[p] / count;
    }
    std::vector<double> each(pieces.size(), 0.0);
    for (std::size_t p = 0; p < pieces.size(); ++p) {
      cost.pieces += pieces[p];
      each[p] = landed_each(p, pieces[p]);
      cost.parts += each[p] * pieces[p];
    }
    cost.total = cost.labour + cost.risk + cost.downtime + cost.parts;
    double squares = 0;
    for (const Tally& t : tallies) {
      double total = t.labour + t.risk + t.downtime;
      for (std::size_t p = 0; p < pieces.size(); ++p) total += each[p] * t.pieces[p];
      squares += (total - cost.total) * (total - cost.total);
    }
    cost.error = std::sqrt(squares / count / std::max(count - 1, 1.0));
    return cost;
  }

 private:
  [[nodiscard]] int index_of(const Part& part) const { return static_cast<int>(&part - c_.parts.data()); }

  /// Landed cost of a piece when the pieces expected to be used are bought in one order.
  [[nodiscard]] double landed_each(std::size_t part, double pieces) const {
    if (pieces <= 0 || c_.parts[part].candidates.empty()) return 0;
    const auto purchase = cheapest_purchase_of_at_least(
        c_, static_cast<int>(part), 0, std::max(1, static_cast<int>(std::ceil(pieces - 1e-9))));
    return purchase ? purchase->cost.total / std::max(pieces, 1.0) : 0;
  }

  /// The n-th uniform of a place, in the future at hand; n = 0: its present piece.
  [[nodiscard]] double luck(std::size_t future, std::size_t place, std::size_t n) const {
    const auto block = random_(Stream::other_uses, future, first_life + place, n / 4);
    return block[n % 4];
  }

  /// Years that a piece has left: its remaining hazard is unit exponential.
  [[nodiscard]] static double remaining(double shape, double log_scale, double wear, double u) {
    const double hazard = wear > 0 ? std::exp(shape * (std::log(wear) - log_scale)) : 0.0;
    if (std::isinf(hazard)) return 0;  // it should not have lasted until now
    return std::max(0.0, std::exp(log_scale + std::log(hazard - std::log(u)) / shape) - wear);
  }

  [[nodiscard]] double first_failure(const FleetFuture& laws, const Place& place, double u) const {
    if (place.state == Place::State::failed) return 0;
    const auto& group = laws.groups[place.group];
    const auto& law = laws.parts[static_cast<std::size_t>(c_.positions[place.group].part)];
    const double wear = place.state == Place::State::renewed ? group.renewed_wear : group.wear;
    return remaining(law.shape, law.log_scale, wear, u) / group.wear_per_year;
  }

  [[nodiscard]] double new_life(const FleetFuture& laws, const Place& place, double u) const {
    const auto& law = laws.parts[static_cast<std::size_t>(c_.positions[place.group].part)];
    return remaining(law.new_shape, law.new_log_scale_years, 0, u) / laws.groups[place.group].share;
  }

  /// The openings of one device until the end.
  void open_device(Policy policy, std::size_t future, const std::vector<Place>& places,
                   std::size_t first_place, bool failed, std::vector<Opening>& out) const {
    const FleetFuture& laws = fleet_.futures()[future];
    std::vector<double> fails(places.size());
    std::vector<std::size_t> used(places.size(), 1);
    for (std::size_t i = 0; i < places.size(); ++i)
      fails[i] = first_failure(laws, places[i], luck(future, first_place + i, 0));
    const auto renew = [&](std::size_t i, double time, Opening& opening) {
      opening.renewed.push_back(places[i].group);
      fails[i] = used[i] > most_renewals
                     ? years_
                     : time + new_life(laws, places[i], luck(future, first_place + i, used[i]++));
    };
    if (policy == Policy::campaign) {
      Opening opening{.time = 0, .planned = !failed};
      for (std::size_t i = 0; i < places.size(); ++i) renew(i, 0, opening);
      out.push_back(std::move(opening));
    }
    while (true) {
      const double next = *std::min_element(fails.begin(), fails.end());
      if (next >= years_) return;
      Opening opening{.time = next};
      for (std::size_t i = 0; i < places.size(); ++i) {
        if (policy == Policy::mates_at_opening || fails[i] <= next) renew(i, next, opening);
      }
      out.push_back(std::move(opening));
    }
  }

  [[nodiscard]] Tally play(Policy policy, std::size_t future) const {
    std::vector<Opening> openings;
    const FleetSize& size = fleet_.size();
    for (int d = 0; d < size.devices; ++d) {
      const bool failed = d < size.failed;
      const auto& places = failed ? failed_places_ : working_places_;
      open_device(policy, future, places, static_cast<std::size_t>(d) * places.size(), failed, openings);
    }
    std::stable_sort(openings.begin(), openings.end(),
                     [](const Opening& a, const Opening& b) { return a.time < b.time; });
    return tally_of(openings);
  }

  [[nodiscard]] Tally tally_of(const std::vector<Opening>& openings) const {
    Tally tally;
    tally.pieces.assign(c_.parts.size(), 0.0);
    const double rate = c_.horizon.discount_rate.base();
    const double day = c_.downtime.per_day.base();
    const Risks& risks = c_.risks;
    int done = c_.labour.done_before;
    for (const Opening& opening : openings) {
      const double worth = discount_factor(rate, opening.time);
      tally.openings += 1;
      double minutes = c_.labour.visit_minutes.base();
      double no_mend = std::log1p(-risks.opening_mendable.base());
      double no_loss = std::log1p(-risks.opening_write_off.base());
      for (const std::size_t g : opening.renewed) {
        const PositionGroup& group = c_.positions[g];
        minutes += group.minutes.base() * learned(++done);
        if (group.joints > 0) {
          no_mend += group.joints * std::log1p(-risks.joint_mendable.base());
          no_loss += group.joints * std::log1p(-risks.joint_write_off.base());
        }
        tally.pieces[static_cast<std::size_t>(group.part)] += 1;
      }
      tally.labour += worth * minutes * minute_;
      const double mend = risks.mend_minutes.base() * minute_ + risks.mend_money.base();
      tally.risk += worth * (consumables_ - std::expm1(no_mend) * mend - std::expm1(no_loss) * loss_);
      if (opening.planned) continue;
      tally.unplanned += 1;
      // Those that have failed already wait for their pieces; later ones find them in stock.
      const double days = c_.downtime.bench_days.base() + (opening.time > 0 ? 0.0 : wait_days_);
      tally.downtime += worth * days * day;
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
  const Fleet& fleet_;
  double years_;
  RandomBlocks random_;
  double minute_ = 0, loss_ = 0, consumables_ = 0, wait_days_ = 0;
  std::vector<Place> failed_places_, working_places_;
  mutable std::vector<double> learned_;  // by n
};

/// The case with every shape, of originals and of new pieces, at one value.
Case with_shape(const Case& c, double shape) {
  Case changed = c;
  const auto pin = [shape](LifePrior& life) {
    life.shape = Quantity::exactly(shape);
    life.shape_spread = 1;
  };
  for (Part& part : changed.parts) {
    pin(part.life);
    for (Candidate& candidate : part.candidates) pin(candidate.life);
  }
  return changed;
}

/// What each policy costs with every shape at one value.
class ShapeScan {
 public:
  ShapeScan(const Case& c, const FleetSize& size, double years, int futures, std::uint64_t seed)
      : c_(c), size_(size), years_(years), futures_(futures), seed_(seed) {}

  [[nodiscard]] std::array<double, 3> totals(double shape) const {
    const Case changed = with_shape(c_, shape);
    const Fleet fleet(changed, size_, futures_, seed_);
    FleetPlay play(changed, fleet, years_, seed_);
    std::array<double, 3> result{};
    for (std::size_t i = 0; i < all_policies.size(); ++i) result[i] = play.cost_of(all_policies[i]).total;
    return result;
  }

  void fill(FleetPolicies& answer) const {
    answer.shape_low = lowest_shape;
    answer.shape_high = highest_shape;
    std::size_t before = 0;
    double place = 0;
    for (int i = 0; i < shapes_scanned; ++i) {
      const double shape = lowest_shape + (highest_shape - lowest_shape) * i / (shapes_scanned - 1);
      const auto costs = totals(shape);
      const auto best =
          static_cast<std::size_t>(std::min_element(costs.begin(), costs.end()) - costs.begin());
      if (i == 0) answer.at_low = all_policies[best];
      if (i > 0 && best != before) add_turn(answer, place, shape, before, best);
      before = best;
      place = shape;
    }
    answer.at_high = all_policies[before];
  }

 private:
  void add_turn(FleetPolicies& answer, double low, double high, std::size_t below, std::size_t above) const {
    const double width = shape_width * (highest_shape - lowest_shape) / (high - low);
    const auto crossings = find_crossings(
        [&](double shape) {
          const auto costs = totals(shape);
          return costs[below] - costs[above];
        },
        low, high, 2, width, most_root_steps);
    if (crossings.at.empty()) return;
    answer.turns.push_back(
        {.shape = crossings.at.front(), .below = all_policies[below], .above = all_policies[above]});
  }

  const Case& c_;
  FleetSize size_;
  double years_;
  int futures_;
  std::uint64_t seed_;
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
    answer.shape_now = c.parts[static_cast<std::size_t>(group.part)].life.shape.base();
    break;
  }
  const double places = static_cast<double>(places_in(c)) * size.devices;
  const int affordable = static_cast<int>(std::clamp(most_lives_scanned / places, 1.0 * fewest_futures, 1e6));
  const Fleet fleet(c, size, futures, seed);
  FleetPlay play(c, fleet, years, seed);
  for (const Policy policy : all_policies) answer.policies.push_back(play.cost_of(policy));
  std::min_element(answer.policies.begin(), answer.policies.end(),
                   [](const PolicyCost& a, const PolicyCost& b) { return a.total < b.total; })
      ->cheapest = true;
  ShapeScan(c, size, years, std::min(futures, affordable), seed).fill(answer);
  return answer;
}

}  // namespace mendworth
