#include "futures/future.hpp"

#include <algorithm>
#include <cmath>

#include "numeric/distributions.hpp"

namespace mendworth {

Future::Future(const DeviceModel& model, std::uint64_t seed) : model_(&model), random_(seed) {
  failures_.resize(model.positions.size(), never);
  other_waits_.resize(model.c.parts.size());
  renewals_.resize(failures_.size() * known_depth);
}

void Future::begin(std::uint64_t number, const Physics& physics) {
  number_ = number;
  physics_ = &physics;
  refit_ = nullptr;
  turn_to_device(0);
}

void Future::turn_to_device(std::uint64_t device) {
  using State = Position::State;
  const Physics& physics = *physics_;
  device_ = device;
  ++turn_;
  candidates_.assign(physics.candidates.size(), Candidate{});
  outlives_.resize(physics.candidates.size() * physics.groups.size());
  for (auto& waits : other_waits_) waits.clear();
  visits_.clear();

  const auto rest = random_(Stream::rest, number_, own_index(0));
  rest_end_ =
      physics.rest_scale * std::pow(physics.rest_hazard - std::log(rest[0]), physics.rest_inverse_shape);
  if (physics.rest_hazard > 0) rest_end_ = std::max(0.0, rest_end_ - physics.age_years);
  limit_ = std::min(rest_end_, physics.end);
  log_limit_ = std::log(limit_);
  const double log_aged = std::log1p(limit_ / physics.age_years);
  const bool common_cause = rest[1] < physics.common_cause_chance;
  const double common_cause_at = common_cause ? -std::log(rest[2]) * physics.common_cause_years : never;

  // Lives of the originals. Many outlive the device, so the cheap test comes first and the power only after it.
  LifeDraw law;
  double scaled_now = 0, survives = 1, inverse_shape = 1;
  int law_of_part = -1, hazard_of_group = -1;
  State hazard_of_state = State::failed;
  std::array<double, 4> block{};
  for (int i = 0; i < static_cast<int>(failures_.size()); ++i) {
    const auto slot = static_cast<std::size_t>(i);
    if (i % 4 == 0) block = random_(Stream::lives, number_, own_index(i / 4), 1);
    const auto& position = model_->positions[slot];
    failures_[slot] = never;
    if (position.state == State::failed) continue;
    if (position.part != law_of_part) {
      law_of_part = position.part;
      hazard_of_group = -1;
      law = original_law(position.part);
      inverse_shape = 1.0 / law.shape;
    }
    const auto& group = physics.groups[static_cast<std::size_t>(position.group)];
    const bool renewed = position.state == State::renewed;
    if (position.group != hazard_of_group || position.state != hazard_of_state) {
      hazard_of_group = position.group;
      hazard_of_state = position.state;
      const double log_now = renewed ? group.log_renewed : group.log_share;
      const double log_end =
          renewed ? log_now + std::log1p(limit_ / group.renewed_years_ago) : log_now + log_aged;
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
    if (common_cause && !renewed && common_cause_at < limit_) {
      failures_[slot] = std::min(failures_[slot], common_cause_at);
    }
  }
}

LifeDraw Future::original_law(int part) const {
  const auto u = random_(Stream::lives, number_, index(part), 0);
  const auto slot = static_cast<std::size_t>(part);
  return model_->lives[slot]->posterior->draw(physics_->parts[slot].z, u[0], u[1]);
}

/// By part and candidate, so that candidates added to another part change nobody's luck.
std::uint64_t Future::luck_index(int candidate) const {
  const int part = physics_->candidates[static_cast<std::size_t>(candidate)].part;
  const int of_part = candidate - physics_->first_candidate[static_cast<std::size_t>(part)];
  return index(part) * 1024 + index(of_part);
}

Future::Candidate& Future::candidate_of(int candidate) {
  auto& known = candidates_[static_cast<std::size_t>(candidate)];
  if (!known.ready) {
    known.u = random_(Stream::new_lives, number_, luck_index(candidate), 1);
    known.ready = true;
  }
  return known;
}

bool Future::fits(int candidate) {
  const auto& drawn = physics_->candidates[static_cast<std::size_t>(candidate)];
  if (refit_ != nullptr && drawn.part == refitted_part_) {
    const auto u = (*refit_)(Stream::new_lives, number_, luck_index(candidate), 1);
    return u[2] < drawn.fit && dimensions_fit(candidate, *refit_);
  }
  return candidate_of(candidate).u[2] < drawn.fit && dimensions_fit(candidate, random_);
}

bool Future::dimensions_fit(int candidate, const RandomBlocks& random) const {
  const auto& windows = model_->windows[static_cast<std::size_t>(candidate)];
  const int part = physics_->candidates[static_cast<std::size_t>(candidate)].part;
  std::array<double, 4> truth{};
  for (std::size_t d = 0; d < windows.size(); ++d) {
    // Drawn for the part, so that its candidates meet the same true dimensions.
    if (d % 4 == 0) truth = random(Stream::dimensions, number_, index(part), d / 4);
    if (!windows[d].holds(truth[d % 4])) return false;
  }
  return true;
}

double Future::misfit_luck(int candidate) { return candidate_of(candidate).u[3]; }

const Future::Candidate& Future::law_of(int candidate) {
  auto& law = candidate_of(candidate);
  if (law.law_ready) return law;
  const auto& prior = physics_->candidates[static_cast<std::size_t>(candidate)];
  double shape = prior.shape;
  if (prior.log_shape_spread > 0) shape *= std::exp(prior.log_shape_spread * normal_quantile(law.u[0]));
  law.shape = shape;
  law.log_scale_years = prior.log_scale - prior.log_minus_log_survivors / shape;
  if (prior.log_life_spread > 0) law.log_scale_years += prior.log_life_spread * normal_quantile(law.u[1]);
  law.law_ready = true;
  return law;
}

double Future::outlives(int candidate, int group) {
  const std::size_t groups = physics_->groups.size();
  auto& known = outlives_[static_cast<std::size_t>(candidate) * groups + static_cast<std::size_t>(group)];
  if (known.turn != turn_) {
    const auto& law = law_of(candidate);
    const double log_wear = log_limit_ + physics_->groups[static_cast<std::size_t>(group)].log_of_share;
    known = {turn_, std::exp(-std::exp((log_wear - law.log_scale_years) * law.shape))};
  }
  return known.value;
}

Future::Renewal Future::draw_renewal(int position, int n, int candidate) {
  auto& luck = renewal_luck_;
  if (luck.turn != turn_ || luck.pair != position / 2 || luck.n != n) {
    luck = {turn_, position / 2, n,
            random_(Stream::new_lives, number_, own_index(position / 2), 2 + index(n))};
  }
  const std::size_t first = position % 2 == 0 ? 0 : 2;
  const double u_life = luck.u[first], u_dead = luck.u[first + 1];
  const int group = model_->positions[static_cast<std::size_t>(position)].group;
  Renewal drawn{.life_years = never};
  // Many outlive the device, which one comparison tells.
  if (u_life >= outlives(candidate, group)) {
    const auto& law = law_of(candidate);
    drawn.life_years = std::exp(law.log_scale_years + std::log(-std::log(u_life)) / law.shape) /
                       physics_->groups[static_cast<std::size_t>(group)].share;
  }
  const double dead_chance = physics_->candidates[static_cast<std::size_t>(candidate)].dead_on_arrival;
  drawn.dead = u_dead < dead_chance;
  // Below its limit a uniform is uniform again.
  if (drawn.dead) drawn.u_found = u_dead / dead_chance;
  return drawn;
}

Future::Renewal Future::renewal(int position, int n, int candidate) {
  if (n >= known_depth) return draw_renewal(position, n, candidate);
  auto& known = renewals_[static_cast<std::size_t>(position * known_depth + n)];
  if (known.turn != turn_ || known.candidate != candidate) {
    known.turn = turn_;
    known.candidate = candidate;
    known.renewal = draw_renewal(position, n, candidate);
  }
  return known.renewal;
}

std::array<double, 4> Future::visit_luck(int k) {
  while (static_cast<int>(visits_.size()) <= k) {
    visits_.push_back(random_(Stream::visits, number_, own_index(static_cast<int>(visits_.size()))));
  }
  return visits_[static_cast<std::size_t>(k)];
}

template <class Transform>
double Future::next_of(Series& series, Stream stream, int which, int i, Transform transform) {
  while (static_cast<int>(series.values.size()) <= i) {
    const std::size_t next = series.values.size();
    if (next == series.uniforms.size()) {
      const auto block = random_(stream, number_, index(which), next / 4);
      series.uniforms.insert(series.uniforms.end(), block.begin(), block.end());
    }
    series.values.push_back(transform(series.uniforms[next]));
  }
  return series.values[static_cast<std::size_t>(i)];
}

double Future::other_use_wait(int part, int i) {
  return next_of(other_waits_[static_cast<std::size_t>(part)], Stream::other_uses, part, i,
                 [](double u) { return -std::log(u); });
}

}  // namespace mendworth
