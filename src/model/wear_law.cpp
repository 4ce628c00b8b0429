#include "model/wear_law.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "model/device_model.hpp"

namespace mendworth {
namespace {

constexpr int points = 33;        ///< of a density
constexpr int wear_points = 129;  ///< of the evidence over the wear

/// ln of the mean of exp(logs), by the trapezoidal rule over evenly spaced points.
double log_mean(std::span<const double> logs) {
  if (logs.size() == 1) return logs.front();
  const double most = *std::max_element(logs.begin(), logs.end());
  double sum = 0;
  for (std::size_t i = 0; i < logs.size(); ++i)
    sum += std::exp(logs[i] - most) * (i == 0 || i + 1 == logs.size() ? 0.5 : 1.0);
  return most + std::log(sum / static_cast<double>(logs.size() - 1));
}

}  // namespace

double WearLaw::Axis::log_at(double place) const {
  return dimension < 0 ? logs.front() : std::log((*sampler)(place)) + added;
}

double WearLaw::OfUse::log_evidence_at(double log_wear) const {
  if (step == 0) return log_evidence.front();
  const auto last = static_cast<double>(log_evidence.size() - 1);
  const double at = std::clamp((log_wear - low) / step, 0.0, last);
  const auto below = std::min(static_cast<std::size_t>(at), log_evidence.size() - 2);
  return std::lerp(log_evidence[below], log_evidence[below + 1], at - static_cast<double>(below));
}

WearLaw::WearLaw(const DeviceModel& model) {
  const Case& c = model.c;
  for (const auto& u : model.uncertain) dimensions_ += u.bears_on_wear ? 1 : 0;
  std::vector<const Quantity*> all;
  for_each_quantity(c, [&](const std::string&, const Quantity& q) { all.push_back(&q); });
  // The case of the model has its numbers where `all` points.
  const auto axis_of = [&](const Quantity& quantity) {
    Axis axis;
    for (int d = 0; d < dimensions_; ++d) {
      const auto& u = model.uncertain[static_cast<std::size_t>(d)];
      if (all[static_cast<std::size_t>(u.ordinal)] != &quantity) continue;
      axis.dimension = d;
      axis.sampler = u.sampler;
      for (int i = 0; i < points; ++i) {
        const double value = i == 0            ? quantity.low()
                             : i == points - 1 ? quantity.high()
                                               : (*u.sampler)(static_cast<double>(i) / (points - 1));
        axis.logs.push_back(std::log(value));
      }
      return axis;
    }
    axis.logs.push_back(std::log(quantity.base()));
    return axis;
  };

  age_ = axis_of(c.device.age_years);
  const std::array units = {LifeUnit::cycles, LifeUnit::hours, LifeUnit::years};
  for (std::size_t k = 0; k < units.size(); ++k) {
    const LifeUnit unit = units[k];
    OfUse& of_use = uses_[k];
    const auto& use = unit == LifeUnit::cycles ? c.device.use_per_day : c.device.hours_per_day;
    if (unit == LifeUnit::years || !use) {
      of_use.use.logs = {std::log(use_per_year(c.device, unit))};
    } else {
      of_use.use = axis_of(*use);
      of_use.use.added = std::log(days_per_year);
      for (double& log : of_use.use.logs) log += of_use.use.added;
    }
    for (std::size_t p = 0; p < c.parts.size(); ++p) {
      if (c.parts[p].life.unit != unit || model.lives[p]->log_fit.empty()) continue;
      of_use.parts.push_back(
          {.life = model.lives[p], .rated = axis_of(c.parts[p].life.rated_life), .known = {}});
    }
    of_use.low = age_.logs.front() + of_use.use.logs.front();
    const double high = age_.logs.back() + of_use.use.logs.back();
    const int count = high > of_use.low ? wear_points : 1;
    of_use.step = count > 1 ? (high - of_use.low) / (count - 1) : 0.0;
    of_use.log_evidence.assign(static_cast<std::size_t>(count), 0.0);
    std::vector<double> logs;
    for (OfPart& part : of_use.parts) {
      for (int i = 0; i < count; ++i) {
        logs.clear();
        for (const double rated : part.rated.logs)
          logs.push_back(part.life->log_fit_at(rated - of_use.low - i * of_use.step));
        of_use.log_evidence[static_cast<std::size_t>(i)] += log_mean(logs);
      }
      if (count == 1 && part.rated.dimension >= 0) part.known.take(logs);
    }
  }

  if (age_.dimension < 0) return;
  std::vector<double> of_age, of_use;
  for (const double age : age_.logs) {
    // A failure seen now is a density in time: of two ages that wear explains alike, the younger one hits it better.
    double log = -model.failures_by_wear * age;
    for (const OfUse& use : uses_) {
      of_use.clear();
      for (const double each : use.use.logs) of_use.push_back(use.log_evidence_at(age + each));
      log += log_mean(of_use);
    }
    of_age.push_back(log);
  }
  age_density_.take(of_age);
}

void WearLaw::draw(std::span<const double> u, std::span<double> places, Scratch& scratch) const {
  std::copy(u.begin(), u.end(), places.begin());  // what the evidence does not speak of stays as it is
  const auto at = [&](const Axis& axis) -> double& {
    return places[static_cast<std::size_t>(axis.dimension)];
  };
  if (age_.dimension >= 0) at(age_) = age_density_.quantile(at(age_));
  const double age = age_.log_at(age_.dimension < 0 ? 0.0 : at(age_));
  for (const OfUse& of_use : uses_) {
    if (of_use.use.dimension >= 0) {
      scratch.logs.clear();
      for (const double use : of_use.use.logs) scratch.logs.push_back(of_use.log_evidence_at(age + use));
      scratch.density.take(scratch.logs);
      at(of_use.use) = scratch.density.quantile(at(of_use.use));
    }
    const double wear = age + of_use.use.log_at(of_use.use.dimension < 0 ? 0.0 : at(of_use.use));
    for (const OfPart& part : of_use.parts) {
      if (part.rated.dimension < 0) continue;
      if (of_use.step == 0) {
        at(part.rated) = part.known.quantile(at(part.rated));
        continue;
      }
      scratch.logs.clear();
      for (const double rated : part.rated.logs) scratch.logs.push_back(part.life->log_fit_at(rated - wear));
      scratch.density.take(scratch.logs);
      at(part.rated) = scratch.density.quantile(at(part.rated));
    }
  }
}

}  // namespace mendworth
