#include "answers/survivors.hpp"

#include <algorithm>
#include <cmath>

#include "model/pricing.hpp"

namespace mendworth {
namespace {

/// The posterior of a part at the base of its inputs, or the prior if `evidence` is empty.
struct AtBase {
  std::shared_ptr<const LifePosterior> posterior;
  double z = 0;
  double reference_wear = 1;
};

AtBase at_base(const Case& c, std::size_t part, const std::vector<WearEvidence>& evidence,
               ModelCache& cache) {
  const auto& life = c.parts[part].life;
  AtBase at;
  at.reference_wear = c.device.age_years.base() * use_per_year(c.device, life.unit);
  at.z = std::log(life.rated_life.base() / at.reference_wear);
  at.posterior = cache.posterior(life, evidence, at.z, at.z);
  return at;
}

int survivors_in(const PositionGroup& group) { return group.count - group.failed - group.renewed; }

/// Renewing one position of the group in an opening that is made anyway: a piece, the work, the risk of its joints.
double renew_now_cost(const Contest& contest, const PositionGroup& group, double device_loss) {
  const Case& c = contest.model.c;
  const double rate = c.labour.rate_per_hour.base() / 60.0;
  double piece = 0;
  if (const auto& candidates = c.parts[static_cast<std::size_t>(group.part)].candidates;
      !candidates.empty()) {
    const auto& offer = candidates.front().offers.front();
    const auto& supplier = c.suppliers[static_cast<std::size_t>(offer.supplier)];
    piece = unit_price(offer, 1) * (1.0 + supplier.tax.base()) * supplier.exchange_rate.base();
  }
  const double mend = -std::expm1(group.joints * std::log1p(-c.risks.joint_mendable.base()));
  const double lost = -std::expm1(group.joints * std::log1p(-c.risks.joint_write_off.base()));
  return piece + group.minutes.base() * rate +
         mend * (c.risks.mend_minutes.base() * rate + c.risks.mend_money.base()) + lost * device_loss;
}

/// An opening of its own for one position: order, wait, opening, work, risk.
double later_cost(const Contest& contest, const PositionGroup& group, double device_loss) {
  const Case& c = contest.model.c;
  const double rate = c.labour.rate_per_hour.base() / 60.0;
  const double day = c.downtime.per_day.base();
  double order = 0;
  if (const int kind = contest.book.small_order(group.part); kind >= 0) {
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

/// What a write-off costs: the cheapest device bought in its place, or the keepsake alone where none is.
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

}  // namespace

std::vector<PartEvidence> part_evidence(const Contest& contest, ModelCache& cache) {
  const Case& c = contest.model.c;
  std::vector<PartEvidence> rows;
  for (std::size_t p = 0; p < c.parts.size(); ++p) {
    const auto& evidence = contest.model.evidence[p];
    if (evidence.empty()) continue;
    const auto prior = at_base(c, p, {}, cache);
    const auto posterior = at_base(c, p, evidence, cache);
    PartEvidence row;
    row.part = c.parts[p].name;
    row.unit = c.parts[p].life.unit;
    const double wear = posterior.reference_wear;
    row.prior_median = wear * prior.posterior->median_life_quantile(prior.z, 0.5);
    row.posterior_median = wear * posterior.posterior->median_life_quantile(posterior.z, 0.5);
    row.posterior_low = wear * posterior.posterior->median_life_quantile(posterior.z, 0.05);
    row.posterior_high = wear * posterior.posterior->median_life_quantile(posterior.z, 0.95);
    double busiest = 0;
    for (const auto& group : c.positions) {
      if (group.part == static_cast<int>(p)) busiest = std::max(busiest, group.share.base());
    }
    const double a_year = use_per_year(c.device, row.unit) * busiest;
    row.prior_median_years = row.prior_median / a_year;
    row.posterior_median_years = row.posterior_median / a_year;
    for (const auto& e : evidence) (e.failed ? row.failures : row.survivors) += e.count;
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<SurvivorRow> survivor_rows(const Contest& contest, ModelCache& cache) {
  const Case& c = contest.model.c;
  const double age = c.device.age_years.base();
  const double horizon = c.horizon.years.base();
  const double loss = loss_of_device(c);
  std::vector<SurvivorRow> rows;
  for (const auto& group : c.positions) {
    if (survivors_in(group) == 0) continue;
    const auto part = static_cast<std::size_t>(group.part);
    const auto prior = at_base(c, part, {}, cache);
    const auto posterior = at_base(c, part, contest.model.evidence[part], cache);
    SurvivorRow row;
    row.position = group.name;
    row.part = c.parts[part].name;
    row.count = survivors_in(group);
    row.share = group.share.base();
    const double per_year = row.share / age;
    row.prior_chance = prior.posterior->failure_chance(prior.z, row.share, per_year * horizon);
    row.chance = posterior.posterior->failure_chance(posterior.z, row.share, per_year * horizon);
    row.chance_one_year = posterior.posterior->failure_chance(posterior.z, row.share, per_year);
    if (c.fault.cause == Cause::spill) {
      // The spill is one more way to fail, whatever the wear.
      const double reached = c.fault.common_cause_chance.base();
      const auto by = [&](double years) {
        return reached * -std::expm1(-years / c.fault.common_cause_years.base());
      };
      row.chance = 1.0 - (1.0 - row.chance) * (1.0 - by(horizon));
      row.chance_one_year = 1.0 - (1.0 - row.chance_one_year) * (1.0 - by(1.0));
    }
    if (!contest.referred) {
      const double now = renew_now_cost(contest, group, loss);
      const double later = later_cost(contest, group, loss);
      row.renewal = {.now_cost = now,
                     .later_cost = later,
                     .break_even_chance = later > 0 ? std::clamp(now / later, 0.0, 1.0) : 1.0};
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

}  // namespace mendworth
