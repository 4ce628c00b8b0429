#include "futures/future.hpp"

#include <algorithm>
#include <cmath>

namespace mendworth {

Future::Future(const DeviceModel& model, std::uint64_t seed) : model_(&model), random_(seed) {
  failures_.resize(model.positions.size(), never);
  device_lives_.resize(model.c.replacements.size());
}

void Future::begin(std::uint64_t number, const Physics& physics) {
  using State = Position::State;
  number_ = number;
  physics_ = &physics;
  laws_.assign(physics.candidates.size(), NewLaw{});
  fits_.assign(physics.candidates.size(), static_cast<signed char>(-1));
  for (auto& lives : device_lives_) lives.clear();
  renewals_.assign(failures_.size() * known_depth, KnownRenewal{});
  visits_.clear();

  const auto rest = random_(Stream::rest, number, 0);
  rest_end_ = physics.rest_scale * std::pow(-std::log(rest[0]), physics.rest_inverse_shape);
  const bool common_cause = rest[1] < physics.common_cause_chance;
  const double common_cause_at = common_cause ? -std::log(rest[2]) * physics.common_cause_years : never;

  // Lives of the originals. Most outlive the horizon, so the cheap test comes first and the power only after it.
  LifeDraw law;
  double scaled_now = 0, survives = 1, inverse_shape = 1;
  int law_of_part = -1, hazard_of_group = -1;
  State hazard_of_state = State::failed;
  std::array<double, 4> block{};
  for (int i = 0; i < static_cast<int>(failures_.size()); ++i) {
    const auto slot = static_cast<std::size_t>(i);
    if (i % 4 == 0) block = random_(Stream::lives, number, index(i / 4), 1);
    const auto& position = model_->positions[slot];
    failures_[slot] = never;
    if (position.state == State::failed) continue;
    if (position.part != law_of_part) {
      law_of_part = position.part;
      hazard_of_group = -1;
      const auto u = random_(Stream::lives, number, index(position.part), 0);
      const auto part = static_cast<std::size_t>(position.part);
      law = model_->posteriors[part]->draw(physics.parts[part].z, u[0], u[1]);
      inverse_shape = 1.0 / law.shape;
    }
    const auto& group = physics.groups[static_cast<std::size_t>(position.group)];
    const bool renewed = position.state == State::renewed;
    if (position.group != hazard_of_group || position.state != hazard_of_state) {
      hazard_of_group = position.group;
      hazard_of_state = position.state;
      const double log_now = renewed ? group.log_renewed : group.log_share;
      const double log_end = renewed ? group.log_renewed_end : group.log_share_end;
      scaled_now = std::exp(law.shape * (log_now - law.log_scale));
      survives = std::exp(scaled_now - std::exp(law.shape * (log_end - law.log_scale)));
    }
    const double u = block[static_cast<std::size_t>(i % 4)];
    if (u > survives) {
      const double ratio = std::exp(law.log_scale) * std::pow(scaled_now - std::log(u), inverse_shape);
      const double share = std::exp(group.log_share);
      const double at = renewed ? ratio * physics.age_years / group.share - group.renewed_years_ago
                                : (ratio / share - 1.0) * physics.age_years;
      failures_[slot] = std::max(at, 0.0);
    }
    if (common_cause && !renewed && common_cause_at < physics.horizon) {
      failures_[slot] = std::min(failures_[slot], common_cause_at);
    }
  }
}

bool Future::fits(int candidate) {
  auto& known = fits_[static_cast<std::size_t>(candidate)];
  if (known < 0) {
    const double chance = physics_->candidates[static_cast<std::size_t>(candidate)].fit;
    known = random_(Stream::new_lives, number_, index(candidate), 1)[2] < chance ? 1 : 0;
  }
  return known == 1;
}

double Future::misfit_luck(int candidate) const {
  return random_(Stream::new_lives, number_, index(candidate), 1)[3];
}

const Future::NewLaw& Future::law_of(int candidate) {
  auto& law = laws_[static_cast<std::size_t>(candidate)];
  if (law.ready) return law;
  const auto& prior = physics_->candidates[static_cast<std::size_t>(candidate)];
  const auto u = random_(Stream::new_lives, number_, index(candidate), 1);
  double shape = prior.shape;
  if (prior.log_shape_spread > 0) shape *= std::exp(prior.log_shape_spread * normal_quantile(u[0]));
  law.inverse_shape = 1.0 / shape;
  law.log_scale_years = prior.log_scale - prior.log_minus_log_survivors * law.inverse_shape;
  if (prior.log_life_spread > 0) law.log_scale_years += prior.log_life_spread * normal_quantile(u[1]);
  law.ready = true;
  return law;
}

Future::Renewal Future::draw_renewal(int position, int n, int candidate) {
  const auto u = random_(Stream::new_lives, number_, index(position), 2 + index(n));
  const auto& law = law_of(candidate);
  const auto group = static_cast<std::size_t>(model_->positions[static_cast<std::size_t>(position)].group);
  const double life = std::exp(law.log_scale_years + std::log(-std::log(u[0])) * law.inverse_shape);
  return {.life_years = life / physics_->groups[group].share, .u_dead = u[1], .u_found = u[2]};
}

Future::Renewal Future::renewal(int position, int n, int candidate) {
  if (n >= known_depth) return draw_renewal(position, n, candidate);
  auto& known = renewals_[static_cast<std::size_t>(position * known_depth + n)];
  if (known.candidate != candidate) {
    known.candidate = candidate;
    known.renewal = draw_renewal(position, n, candidate);
  }
  return known.renewal;
}

std::array<double, 4> Future::visit_luck(int k) {
  while (static_cast<int>(visits_.size()) <= k) {
    visits_.push_back(random_(Stream::visits, number_, static_cast<std::uint64_t>(visits_.size())));
  }
  return visits_[static_cast<std::size_t>(k)];
}

double Future::device_life(int replacement, int i) {
  auto& lives = device_lives_[static_cast<std::size_t>(replacement)];
  const auto& law = physics_->replacements[static_cast<std::size_t>(replacement)];
  while (static_cast<int>(lives.size()) <= i) {
    const auto u = random_(Stream::replacements, number_, index(replacement), lives.size() / 4);
    for (const double each : u) lives.push_back(law.scale * std::pow(-std::log(each), law.inverse_shape));
  }
  return lives[static_cast<std::size_t>(i)];
}

double Future::other_use_wait(int part, int i) const {
  return -std::log(random_(Stream::other_uses, number_, index(part), index(i))[0]);
}

}  // namespace mendworth
