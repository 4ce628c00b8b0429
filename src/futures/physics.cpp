#include "futures/physics.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "numeric/poisson_stock.hpp"
#include "numeric/weibull.hpp"

namespace mendworth {
namespace {

double log_no(const Quantity& chance) { return std::log1p(-chance.base()); }

}  // namespace

double PhysicsMemory::MeanToScale::scale(double mean, double shape_now) {
  if (shape_now != shape) {
    shape = shape_now;
    scale_per_mean = scale_from_mean(1.0, shape_now);
  }
  return mean * scale_per_mean;
}

double PhysicsMemory::KnownLog::operator()(double x) {
  if (x != of) {
    of = x;
    value = std::log(x);
  }
  return value;
}

double Physics::learning(int n) const {
  if (learning_exponent_ == 0.0) return 1.0;
  constexpr int most_known = 4096;
  const auto share = [this](int k) { return std::max(learning_floor_, std::pow(k, learning_exponent_)); };
  if (n >= most_known) return share(n);
  while (static_cast<int>(learned_.size()) <= n)
    learned_.push_back(share(std::max(1, static_cast<int>(learned_.size()))));
  return learned_[static_cast<std::size_t>(n)];
}

Physics::Damage Physics::combine(int openings, int joints) const {
  return {.write_off = -std::expm1(openings * log_no_opening_write_off + joints * log_no_joint_write_off),
          .mendable = -std::expm1(openings * log_no_opening_mend + joints * log_no_joint_mend)};
}

Physics::Damage Physics::damage(int openings, int joints) const {
  if (openings != 1 || joints >= known_joints) return combine(openings, joints);
  auto& known = known_[static_cast<std::size_t>(joints)];
  if (known.write_off < 0) known = combine(openings, joints);
  return known;
}

void Physics::take(const Case& c, const DeviceModel& model, PhysicsMemory& memory) {
  age_years = c.device.age_years.base();
  end = c.horizon.years ? c.horizon.years->base() : std::numeric_limits<double>::infinity();
  log_growth = memory.growth(1.0 + c.horizon.discount_rate.base());
  const double rest_shape = c.rest.shape.base();
  rest_scale = memory.rest_law.scale(
      c.rest.remaining_years ? c.rest.remaining_years->base() : c.device.life_years.base(), rest_shape);
  rest_hazard = c.rest.remaining_years ? 0.0 : std::pow(age_years / rest_scale, rest_shape);
  rest_inverse_shape = 1.0 / rest_shape;
  common_cause_chance = c.fault.cause == Cause::spill ? c.fault.common_cause_chance.base() : 0.0;
  common_cause_years = c.fault.common_cause_years.base();

  const std::array<double, 4> logs = {log_no(c.risks.opening_mendable), log_no(c.risks.opening_write_off),
                                      log_no(c.risks.joint_mendable), log_no(c.risks.joint_write_off)};
  if (logs !=
      std::array{log_no_opening_mend, log_no_opening_write_off, log_no_joint_mend, log_no_joint_write_off}) {
    log_no_opening_mend = logs[0];
    log_no_opening_write_off = logs[1];
    log_no_joint_mend = logs[2];
    log_no_joint_write_off = logs[3];
    known_.fill(Damage{});
  }
  diagnosis_right = c.risks.diagnosis_right.base();
  second_attempt = c.risks.second_attempt.has_value();
  second_attempt_chance = second_attempt ? c.risks.second_attempt->chance.base() : 0.0;
  dead_found_after_closing = c.risks.dead_found_after_closing.base();
  misfit_found_after_closing = c.risks.misfit_found_after_closing.base();
  const double exponent = memory.learning(c.labour.learning_rate.base()) / std::numbers::ln2;
  if (exponent != learning_exponent_ || c.labour.learning_floor != learning_floor_) {
    learning_exponent_ = exponent;
    learning_floor_ = c.labour.learning_floor;
    learned_.clear();
  }
  licensed_chance = c.licensed_repair ? c.licensed_repair->chance.base() : 0.0;
  burden = c.fault.burden_per_year.has_value();

  groups.resize(c.positions.size());
  memory.groups.resize(groups.size());
  for (std::size_t g = 0; g < groups.size(); ++g) {
    const auto& from = c.positions[g];
    auto& to = groups[g];
    to.share = from.share.base();
    to.renewed_years_ago = from.renewed_years_ago.base();
    to.joints = from.joints;
    const double original_share = to.share * model.hypothesis.mate_wear;
    auto& known = memory.groups[g];
    to.log_of_share = known.share(to.share);
    to.log_share = known.now(original_share);
    if (from.renewed > 0) to.log_renewed = known.renewed(to.share * to.renewed_years_ago / age_years);
  }
  take_parts(c, memory);
  take_drawers(c, memory);
}

void Physics::take_parts(const Case& c, PhysicsMemory& memory) {
  parts.resize(c.parts.size());
  memory.parts.resize(parts.size());
  first_candidate.resize(c.parts.size());
  candidates.clear();
  for (std::size_t p = 0; p < parts.size(); ++p) {
    const auto& from = c.parts[p];
    auto& to = parts[p];
    to.reference_wear = age_years * use_per_year(c.device, from.life.unit);
    to.z = memory.parts[p](from.life.rated_life.base() / to.reference_wear);
    to.other_uses_per_year = from.other_uses_per_year.base();
    to.shelf_life_years = from.shelf_life_years.base();
    first_candidate[p] = static_cast<int>(candidates.size());
    const auto add_candidate = [&](const LifePrior& life, double fit, double dead) {
      const std::size_t i = candidates.size();
      if (memory.candidates.size() <= i) memory.candidates.resize(i + 1);
      auto& logs = memory.candidates[i];
      candidates.push_back(
          {.part = static_cast<int>(p),
           .fit = fit,
           .dead_on_arrival = dead,
           .log_scale = logs.rated(life.rated_life.base() / use_per_year(c.device, life.unit)),
           .log_minus_log_survivors = logs.survivors(-std::log1p(-life.failed_at_rated)),
           .shape = life.shape.base(),
           .log_shape_spread = logs.shape_spread(life.shape_spread),
           .log_life_spread = logs.life_spread(life.life_spread)});
    };
    for (const auto& candidate : from.candidates) {
      add_candidate(candidate.life, candidate.fit.base(), candidate.dead_on_arrival.base());
    }
    // A licensed person brings the part along: like the original, and fitting.
    if (from.candidates.empty()) add_candidate(from.life, 1.0, 0.0);
  }
}

void Physics::take_drawers(const Case& c, PhysicsMemory& memory) {
  drawers.resize(parts.size());
  memory.drawer_terms.resize(parts.size());
  for (std::size_t p = 0; p < parts.size(); ++p) {
    const int pieces = pieces_on_hand(c.parts[p]);
    if (pieces == 0) continue;
    const auto& part = parts[p];
    const double until = std::min(end, part.shelf_life_years);
    const std::array<double, 3> terms = {part.other_uses_per_year, until, log_growth};
    if (drawers[p].pieces() == pieces && memory.drawer_terms[p] == terms) continue;
    memory.drawer_terms[p] = terms;
    auto& drawer = drawers[p];
    drawer.uses = stock_uses(pieces, part.other_uses_per_year, until, log_growth);
    drawer.left = stock_left(pieces, part.other_uses_per_year, until);
    for (double& left : drawer.left) left *= std::exp(-log_growth * until);
  }
}

}  // namespace mendworth
