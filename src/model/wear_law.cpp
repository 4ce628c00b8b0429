#include "model/wear_law.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <utility>

#include "domain/inputs.hpp"
#include "model/device_model.hpp"

namespace mendworth {
namespace {

constexpr std::size_t points = 65;      ///< of a density
constexpr std::size_t conditions = 33;  ///< values of what it hangs on

/// ln of the mean of exp(logs), by the trapezoidal rule over evenly spaced points.
double log_mean(std::span<const double> logs) {
  if (logs.size() == 1) return logs.front();
  const double most = *std::max_element(logs.begin(), logs.end());
  double sum = 0;
  for (std::size_t i = 0; i < logs.size(); ++i)
    sum += std::exp(logs[i] - most) * (i == 0 || i + 1 == logs.size() ? 0.5 : 1.0);
  return most + std::log(sum / static_cast<double>(logs.size() - 1));
}

/// Numbers from one to another, evenly spaced; one if they are the same.
std::vector<double> spaced(double from, double to) {
  std::vector<double> at{from};
  for (std::size_t i = 1; from < to && i < conditions; ++i)
    at.push_back(std::lerp(from, to, static_cast<double>(i) / (conditions - 1)));
  return at;
}

/// Between the values at evenly spaced places.
double interpolated(const std::vector<double>& places, const std::vector<double>& values, double at) {
  if (values.size() == 1) return values.front();
  const double place =
      std::clamp((at - places[0]) / (places[1] - places[0]), 0.0, static_cast<double>(places.size() - 1));
  const auto below = std::min(static_cast<std::size_t>(place), values.size() - 2);
  return std::lerp(values[below], values[below + 1], place - static_cast<double>(below));
}

/// A density at each value of what it hangs on, from its logarithms there.
ConditionalDensity given(const std::vector<double>& condition,
                         const std::function<std::vector<double>(double)>& logs_at) {
  std::vector<LinearDensity> densities;
  for (const double at : condition) densities.emplace_back(logs_at(at));
  const double step = condition.size() > 1 ? condition[1] - condition[0] : 0.0;
  return {condition.front(), step, std::move(densities)};
}

}  // namespace

double WearLaw::Axis::log_at(std::span<const double> places) const {
  return is_range() ? std::log((*sampler)(places[static_cast<std::size_t>(dimension)])) + added
                    : logs.front();
}

WearLaw::WearLaw(const DeviceModel& model) {
  const Case& c = model.c;
  for (const auto& u : model.uncertain) dimensions_ += u.bears_on_wear ? 1 : 0;
  const std::vector<const Quantity*> all = quantities_of(c);
  // The case of the model has its numbers where `all` points.
  const auto axis_of = [&](const Quantity& quantity) {
    Axis axis;
    for (int d = 0; d < dimensions_; ++d) {
      const auto& u = model.uncertain[static_cast<std::size_t>(d)];
      if (all[static_cast<std::size_t>(u.ordinal)] != &quantity) continue;
      axis.dimension = d;
      axis.sampler = u.sampler;
      for (std::size_t i = 0; i < points; ++i) {
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
  // A failure seen now is a density in time: of two ages that wear explains alike, the younger one hits it better.
  std::vector<double> of_age;
  for (const double age : age_.logs) of_age.push_back(-model.failures_by_wear * age);
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
    // Evidence of a rated life over the wear so far, and of the wear with the rated lives integrated out.
    using LogsAt = std::function<std::vector<double>(double)>;
    std::vector<LogsAt> evidence;
    const std::vector<double> wears =
        spaced(age_.logs.front() + of_use.use.logs.front(), age_.logs.back() + of_use.use.logs.back());
    for (std::size_t p = 0; p < c.parts.size(); ++p) {
      const auto& life = model.lives[p];
      if (c.parts[p].life.unit != unit || life->log_fit.empty()) continue;
      const Axis rated = axis_of(c.parts[p].life.rated_life);
      evidence.emplace_back([&life, logs = rated.logs](double wear) {
        std::vector<double> fits;
        for (const double log : logs) fits.push_back(life->log_fit_at(log - wear));
        return fits;
      });
      if (rated.is_range()) of_use.parts.push_back({rated, given(wears, evidence.back())});
    }
    std::vector<double> of_wears;
    for (const double wear : wears) {
      double log = 0;
      for (const LogsAt& of_part : evidence) log += log_mean(of_part(wear));
      of_wears.push_back(log);
    }
    const auto of_wear = [&](double wear) { return interpolated(wears, of_wears, wear); };
    const auto given_age = [&, use = of_use.use.logs](double age) {
      std::vector<double> logs;
      for (const double each : use) logs.push_back(of_wear(age + each));
      return logs;
    };
    if (of_use.use.is_range())
      of_use.given_age = given(spaced(age_.logs.front(), age_.logs.back()), given_age);
    for (std::size_t i = 0; i < of_age.size() && age_.is_range(); ++i)
      of_age[i] += log_mean(given_age(age_.logs[i]));
  }
  if (age_.is_range()) age_density_ = given({0.0}, [&](double) { return of_age; });
}

void WearLaw::draw(std::span<const double> u, std::span<double> places) const {
  std::copy(u.begin(), u.end(), places.begin());  // what the evidence does not speak of stays as it is
  const auto turn = [&](const Axis& axis, const ConditionalDensity& density, double condition) {
    double& place = places[static_cast<std::size_t>(axis.dimension)];
    place = density.quantile(condition, place);
  };
  if (age_.is_range()) turn(age_, age_density_, 0.0);
  const double age = age_.log_at(places);
  for (const OfUse& of_use : uses_) {
    if (of_use.use.is_range()) turn(of_use.use, of_use.given_age, age);
    if (of_use.parts.empty()) continue;
    const double wear = age + of_use.use.log_at(places);
    for (const OfPart& part : of_use.parts) turn(part.rated, part.given_wear, wear);
  }
}

}  // namespace mendworth
