#include "answers/survivors.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "answers/settings.hpp"
#include "answers/verdict.hpp"
#include "futures/life_sample.hpp"
#include "model/pricing.hpp"

namespace mendworth {
namespace {

constexpr int most_life_futures = 1024;
constexpr int survival_points = 16;        // of a curve, beyond the one now
constexpr int range_places = 8;            // of a range, each for an eighth of its probability
constexpr std::size_t most_z_groups = 24;  ///< of the combinations of those places

int survivors_in(const PositionGroup& group) { return group.count - group.failed - group.renewed; }

/// One more piece on an order that is placed anyway: its landed price where that keeps the parcel's terms.
double piece_cost(const Case& c, const PositionGroup& group) {
  const auto& candidates = c.parts[static_cast<std::size_t>(group.part)].candidates;
  if (candidates.empty()) return 0;
  const auto& offer = candidates.front().offers.front();
  const auto& supplier = c.suppliers[static_cast<std::size_t>(offer.supplier)];
  return unit_price(offer, 1) * landed_slope(supplier, false);
}

/// Renewing one position of the group in an opening that is made anyway: a
/// piece, the work, the risk of its joints.
double renew_now_cost(const Contest& contest, const PositionGroup& group, double device_loss) {
  const Case& c = contest.model.c;
  const double rate = c.labour.rate_per_hour.base() / 60.0;
  const double mend = -std::expm1(group.joints * std::log1p(-c.risks.joint_mendable.base()));
  const double lost = -std::expm1(group.joints * std::log1p(-c.risks.joint_write_off.base()));
  return piece_cost(c, group) + group.minutes.base() * rate +
         mend * (c.risks.mend_minutes.base() * rate + c.risks.mend_money.base()) + lost * device_loss;
}

/// An opening of its own for one position: order and wait, or else a spare,
/// then opening, work, risk. A spare is counted at the price of a piece: used
/// here, it is gone for anything else.
double later_cost(const Contest& contest, const PositionGroup& group, double device_loss, bool from_spares) {
  const Case& c = contest.model.c;
  const double rate = c.labour.rate_per_hour.base() / 60.0;
  const double day = c.downtime.per_day.base();
  double order = from_spares ? piece_cost(c, group) : 0;
  if (const int kind = contest.book.small_order(group.part); kind >= 0 && !from_spares) {
    order = contest.book.order(kind).cost.total + contest.book.order(kind).cost.wait_days * day;
  }
  double consumables = 0;
  for (const auto& item : c.consumables) consumables += item.price.base() * item.chance.base();
  const double mend = -std::expm1(group.joints * std::log1p(-c.risks.joint_mendable.base()) +
                                  std::log1p(-c.risks.opening_mendable.base()));
  const double lost = -std::expm1(group.joints * std::log1p(-c.risks.joint_write_off.base()) +
                                  std::log1p(-c.risks.opening_write_off.base()));
  return order + consumables + c.downtime.bench_days.base() * day +
         (c.labour.visit_minutes.base() + group.minutes.base()) * rate +
         mend * (c.risks.mend_minutes.base() * rate + c.risks.mend_money.base()) + lost * device_loss;
}

/// Pieces of a part that the order of the best repair leaves over.
int spares_of(const Weighing& w, const std::string& part) {
  int spares = 0;
  if (!w.order) return 0;
  for (const auto& line : w.order->lines) {
    if (line.part == part) spares += line.quantity - line.needed;
  }
  return spares;
}

/// What a write-off costs: the cheapest device bought in its place, or the
/// keepsake alone where none is.
double loss_of_device(const Case& c) {
  double least = 0;
  bool any = false;
  for (const auto& r : c.replacements) {
    if (!r.price) continue;
    const double price = purchase_price(r);
    least = any ? std::min(least, price) : price;
    any = true;
  }
  return least + c.device.keepsake.base() - c.device.scrap.base();
}

/// Adds to a chance that of failing with the others after a spill.
double with_spill(const Case& c, double chance, double years) {
  if (c.fault.cause != Cause::spill) return chance;
  const double spilt =
      c.fault.common_cause_chance.base() * -std::expm1(-years / c.fault.common_cause_years.base());
  return 1.0 - (1.0 - chance) * (1.0 - spilt);
}

/// What is known of one part's life, exactly where age, use and rated life are
/// single numbers, else from futures.
class LifeView {
 public:
  LifeView(const Contest& contest, bool evidence, ModelCache& cache, const WeighSettings& settings)
      : c_(contest.model.c), model_(DeviceModel::make(c_, {.no_evidence = !evidence}, cache)) {
    certain_ = std::none_of(model_.uncertain.begin(), model_.uncertain.end(),
                            [](const DeviceModel::Uncertain& u) { return u.bears_on_wear; });
    if (certain_) return;
    const double horizon = years_ahead(c_);
    std::vector<std::vector<double>> years(c_.positions.size());
    for (std::size_t g = 0; g < years.size(); ++g) {
      if (survivors_in(c_.positions[g]) == 0) continue;
      years[g] = {std::min(1.0, horizon)};
      for (int k = 1; k <= survival_points; ++k) years[g].push_back(horizon * k / survival_points);
    }
    sample_ = sample_lives({model_, contest.items, contest.book, contest.chains}, years, settings.seed,
                           at_most(most_life_futures, settings), settings.threads);
  }

  /// Quantile u of the median life: in the part's unit, and in years at the use
  /// `share`.
  struct Life {
    double wear, years;
  };
  [[nodiscard]] Life median_life(std::size_t part, double share, double u) {
    if (!certain_) {
      return {sample_quantile(sample_.median_wear[part], u),
              sample_quantile(sample_.median_years[part], u) / share};
    }
    const double ratio = model_.lives[part]->posterior->median_life_quantile(z(part), u);
    return {ratio * reference_wear(part), ratio * c_.device.age_years.base() / share};
  }
  /// Chance that a surviving original of the group fails within so many steps of the survival curve, wear and
  /// spill together.
  [[nodiscard]] double failure_chance(std::size_t group, int steps) const {
    if (!certain_) return sample_.within[group][static_cast<std::size_t>(steps)];
    return certain_chance(group, years_ahead(c_) * steps / survival_points);
  }
  /// The same within a year, or within the years ahead if they are fewer.
  [[nodiscard]] double chance_within_year(std::size_t group) const {
    return certain_ ? certain_chance(group, std::min(1.0, years_ahead(c_))) : sample_.within[group].front();
  }
  /// Chance that at least as many of the items as have failed do so by their wear; mean over the ranges of age, use
  /// and rated life.
  [[nodiscard]] double as_many_failures_chance(std::size_t part,
                                               const std::vector<WearEvidence>& items) const {
    const LifePrior& life = c_.parts[part].life;
    const std::optional<Quantity>& stated =
        life.unit == LifeUnit::hours ? c_.device.hours_per_day : c_.device.use_per_day;
    const Quantity use =
        life.unit == LifeUnit::years || !stated ? Quantity::exactly(1) : *stated;  // relative to its base
    const double use_a_year = use_per_year(c_.device, life.unit);
    std::vector<double> zs;
    const auto places = [](const Quantity& q) { return q.is_fixed() ? 1 : range_places; };
    const auto at = [](const Quantity& q, int place) {
      return q.is_fixed() ? q.base() : q.quantile((place + 0.5) / range_places);
    };
    for (int r = 0; r < places(life.rated_life); ++r) {
      for (int a = 0; a < places(c_.device.age_years); ++a) {
        for (int u = 0; u < places(use); ++u) {
          const double wear = at(c_.device.age_years, a) * use_a_year * at(use, u) / use.base();
          zs.push_back(std::log(at(life.rated_life, r) / wear));
        }
      }
    }
    // The chance is smooth in z, so that neighbours can stand for each other.
    std::sort(zs.begin(), zs.end());
    const std::size_t groups = std::min(zs.size(), most_z_groups);
    double chance = 0;
    for (std::size_t g = 0; g < groups; ++g) {
      const auto from = zs.begin() + static_cast<std::ptrdiff_t>(g * zs.size() / groups);
      const auto to = zs.begin() + static_cast<std::ptrdiff_t>((g + 1) * zs.size() / groups);
      const auto count = static_cast<double>(to - from);
      const double z = std::accumulate(from, to, 0.0) / count;
      chance += count * model_.lives[part]->posterior->as_many_failures_chance(z, items);
    }
    return chance / static_cast<double>(zs.size());
  }

 private:
  [[nodiscard]] double certain_chance(std::size_t group, double years) const {
    const auto part = static_cast<std::size_t>(c_.positions[group].part);
    const double share = c_.positions[group].share.base();
    const double chance = model_.lives[part]->posterior->failure_chance(
        z(part), share, share * years / c_.device.age_years.base());
    return with_spill(c_, chance, years);
  }
  [[nodiscard]] double reference_wear(std::size_t part) const {
    return c_.device.age_years.base() * use_per_year(c_.device, c_.parts[part].life.unit);
  }
  [[nodiscard]] double z(std::size_t part) const {
    return std::log(c_.parts[part].life.rated_life.base() / reference_wear(part));
  }

  const Case& c_;
  DeviceModel model_;
  bool certain_ = true;
  LifeSample sample_;
};

double busiest_share(const Case& c, std::size_t part) {
  double busiest = 0;
  for (const auto& group : c.positions) {
    if (group.part == static_cast<int>(part)) busiest = std::max(busiest, group.share.base());
  }
  return busiest;
}

/// The failure at the least wear. Only failures by wear are evidence.
void add_first_failure(PartEvidence& row, const Case& c, int part, double busiest) {
  if (row.failures == 0) return;
  double least = 0;
  for (const auto& group : c.positions) {
    if (group.part != part || group.failed == 0) continue;
    least = least == 0 ? group.share.base() : std::min(least, group.share.base());
  }
  row.failed_after_years = c.device.age_years.base();
  row.expected_years = row.prior_median_years * busiest / least;
}

void add_chances_within_year(PartEvidence& row, const Case& c, int part, const LifeView& before,
                             const LifeView& after) {
  int survivors = 0;
  for (std::size_t g = 0; g < c.positions.size(); ++g) {
    const int count = survivors_in(c.positions[g]);
    if (c.positions[g].part != part || count == 0) continue;
    survivors += count;
    row.prior_chance_one_year += count * before.chance_within_year(g);
    row.chance_one_year += count * after.chance_within_year(g);
  }
  if (survivors == 0) return;
  row.prior_chance_one_year /= survivors;
  row.chance_one_year /= survivors;
}

/// Of the part's surviving positions the one of the most use; absent if none survives.
std::optional<std::size_t> busiest_survivor(const Case& c, std::size_t part) {
  std::optional<std::size_t> busiest;
  for (std::size_t g = 0; g < c.positions.size(); ++g) {
    if (c.positions[g].part != static_cast<int>(part) || survivors_in(c.positions[g]) == 0) continue;
    if (!busiest || c.positions[g].share.base() > c.positions[*busiest].share.base()) busiest = g;
  }
  return busiest;
}

}  // namespace

void add_survivors(Weighing& w, const Contest& contest, ModelCache& cache, const WeighSettings& settings) {
  const Case& c = contest.model.c;
  w.cause.cause = c.fault.cause;
  if (c.fault.cause == Cause::spill) {
    w.cause.common_chance = c.fault.common_cause_chance.base();
    w.cause.common_years = c.fault.common_cause_years.base();
  }
  LifeView before(contest, false, cache, settings);
  LifeView after(contest, true, cache, settings);
  for (std::size_t p = 0; p < c.parts.size(); ++p) {
    const auto& evidence = contest.model.evidence[p];
    if (evidence.empty()) continue;
    const double share = busiest_share(c, p);
    PartEvidence row;
    row.part = c.parts[p].name;
    row.unit = c.parts[p].life.unit;
    const auto prior = before.median_life(p, share, 0.5);
    const auto posterior = after.median_life(p, share, 0.5);
    row.prior_median = prior.wear;
    row.prior_median_years = prior.years;
    row.posterior_median = posterior.wear;
    row.posterior_median_years = posterior.years;
    row.posterior_low = after.median_life(p, share, 0.05).wear;
    row.posterior_high = after.median_life(p, share, 0.95).wear;
    for (const auto& e : evidence) (e.failed ? row.failures : row.survivors) += e.count;
    row.failed_at_rated = c.parts[p].life.failed_at_rated;
    if (row.failures > 0) row.early_chance = before.as_many_failures_chance(p, evidence);
    add_first_failure(row, c, static_cast<int>(p), share);
    add_chances_within_year(row, c, static_cast<int>(p), before, after);
    w.evidence.push_back(std::move(row));
  }

  for (std::size_t p = 0; p < c.parts.size(); ++p) {
    const auto group = busiest_survivor(c, p);
    if (!group) continue;
    MateSurvival curve{.part = c.parts[p].name, .position = c.positions[*group].name, .points = {{}}};
    for (int k = 1; k <= survival_points; ++k) {
      curve.points.push_back({w.years_ahead * k / survival_points, 1 - before.failure_chance(*group, k),
                              1 - after.failure_chance(*group, k)});
    }
    w.mate_survival.push_back(std::move(curve));
  }

  const double loss = loss_of_device(c);
  for (std::size_t g = 0; g < c.positions.size(); ++g) {
    const auto& group = c.positions[g];
    if (survivors_in(group) == 0) continue;
    SurvivorRow row;
    row.position = group.name;
    row.part = c.parts[static_cast<std::size_t>(group.part)].name;
    row.count = survivors_in(group);
    row.share = group.share.base();
    row.prior_chance = before.failure_chance(g, survival_points);
    row.chance = after.failure_chance(g, survival_points);
    row.chance_one_year = after.chance_within_year(g);
    if (!contest.referred) {
      const double now = renew_now_cost(contest, group, loss);
      const bool from_spares = spares_of(w, row.part) > 0;
      const double later = later_cost(contest, group, loss, from_spares);
      row.renewal = {.now_cost = now,
                     .later_cost = later,
                     .break_even_chance = later > 0 ? std::clamp(now / later, 0.0, 1.0) : 1.0,
                     .later_uses_spare = from_spares};
    }
    w.survivors.push_back(std::move(row));
  }
}

}  // namespace mendworth
