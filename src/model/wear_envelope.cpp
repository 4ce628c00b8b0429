#include "model/wear_envelope.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "model/device_model.hpp"

namespace mendworth {
namespace {

constexpr double most_cells = 4096;

/// A quantity's logarithm at the edges of its cells; one value for all if it is certain.
struct Edges {
  int dimension = -1;
  std::vector<double> logs;

  [[nodiscard]] double low(std::size_t digit) const { return dimension < 0 ? logs.front() : logs[digit]; }
  [[nodiscard]] double high(std::size_t digit) const {
    return dimension < 0 ? logs.front() : logs[digit + 1];
  }
};

std::size_t digit_of(std::size_t cell, int dimension, std::size_t per_dimension) {
  for (int d = 0; d < dimension; ++d) cell /= per_dimension;
  return cell % per_dimension;
}

}  // namespace

WearEnvelope::WearEnvelope(const DeviceModel& model) {
  const Case& c = model.c;
  for (const auto& u : model.uncertain) dimensions_ += u.bears_on_wear ? 1 : 0;
  per_dimension_ =
      std::max<std::size_t>(1, static_cast<std::size_t>(std::pow(most_cells, 1.0 / dimensions_) + 1e-9));
  std::size_t cells = 1;
  for (int d = 0; d < dimensions_; ++d) cells *= per_dimension_;

  std::vector<const Quantity*> all;
  for_each_quantity(c, [&](const std::string&, const Quantity& q) { all.push_back(&q); });
  const auto edges_of = [&](const Quantity* quantity) {
    Edges edges;
    for (int d = 0; d < dimensions_; ++d) {
      const auto& u = model.uncertain[static_cast<std::size_t>(d)];
      if (all[static_cast<std::size_t>(u.ordinal)] != quantity) continue;
      edges.dimension = d;
      for (std::size_t i = 0; i <= per_dimension_; ++i) {
        const double share = static_cast<double>(i) / static_cast<double>(per_dimension_);
        const double at = i == 0                ? quantity->low()
                          : i == per_dimension_ ? quantity->high()
                                                : (*u.sampler)(share);
        edges.logs.push_back(std::log(at));
      }
      return edges;
    }
    edges.logs.push_back(std::log(quantity->base()));
    return edges;
  };
  const auto digit = [&](const Edges& edges, std::size_t cell) {
    return edges.dimension < 0 ? 0 : digit_of(cell, edges.dimension, per_dimension_);
  };

  const Edges age = edges_of(&c.device.age_years);
  struct PartEdges {
    const PartLife* life;
    Edges rated, use;
  };
  std::vector<PartEdges> parts;
  for (std::size_t p = 0; p < c.parts.size(); ++p) {
    if (model.lives[p]->log_fit.empty()) continue;
    PartEdges part{.life = model.lives[p].get(), .rated = edges_of(&c.parts[p].life.rated_life), .use = {}};
    const LifeUnit unit = c.parts[p].life.unit;
    const double per_year = std::log(days_per_year);
    if (unit == LifeUnit::cycles && c.device.use_per_day) {
      part.use = edges_of(&*c.device.use_per_day);
    } else if (unit == LifeUnit::hours && c.device.hours_per_day) {
      part.use = edges_of(&*c.device.hours_per_day);
    } else {
      part.use.logs = {-per_year};
    }
    for (double& log : part.use.logs) log += per_year;
    parts.push_back(std::move(part));
  }

  log_bounds_.resize(cells);
  cumulative_.resize(cells);
  double total = 0;
  for (std::size_t cell = 0; cell < cells; ++cell) {
    const std::size_t a = digit(age, cell);
    double bound = model.failures_by_wear * (std::log(c.device.age_years.low()) - age.low(a));
    for (const auto& part : parts) {
      const std::size_t r = digit(part.rated, cell), u = digit(part.use, cell);
      bound += part.life->most_log_fit(part.rated.low(r) - age.high(a) - part.use.high(u),
                                       part.rated.high(r) - age.low(a) - part.use.low(u));
    }
    log_bounds_[cell] = bound;
    cumulative_[cell] = total += std::exp(bound);
  }
  for (double& sum : cumulative_) sum = total > 0 ? sum / total : 1.0;
}

std::size_t WearEnvelope::cell(double u) const noexcept {
  const auto found = std::lower_bound(cumulative_.begin(), cumulative_.end(), u);
  return std::min(static_cast<std::size_t>(found - cumulative_.begin()), cumulative_.size() - 1);
}

double WearEnvelope::place(std::size_t cell, int dimension, double within) const noexcept {
  return (static_cast<double>(digit_of(cell, dimension, per_dimension_)) + within) /
         static_cast<double>(per_dimension_);
}

}  // namespace mendworth
