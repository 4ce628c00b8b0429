#include "model/life_posterior.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>
#include <numbers>
#include <stdexcept>

namespace mendworth {
namespace {

constexpr double infinity = std::numeric_limits<double>::infinity();

constexpr double y_drop = 26;  // nodes reach to where the weight is e^-26 of the peak
constexpr double least_y_cells = 64;
constexpr double most_y_cells = 2000;
constexpr double finest_change = 0.5;  // of shape times y, from node to node

constexpr int range_shapes = 16;
constexpr int lognormal_shapes = 17;
constexpr double shape_drop = 10;      // likewise for the shapes
constexpr double shape_stride = 0.25;  // prior deviations per step of the search for them
constexpr double furthest_shape = 12;  // prior deviations
constexpr double most_log_change = 7;  // of the shape from its base, whatever its spread

constexpr double z_spacing = 0.16;
constexpr int most_z = 17;

void require(bool holds, const char* message) {
  if (!holds) throw std::domain_error(message);
}

// ln((ratio + further)^shape - ratio^shape), without cancellation or overflow.
double log_added_hazard(double ratio, double further, double shape) {
  if (ratio == 0) return shape * std::log(further);
  const double growth = shape * std::log1p(further / ratio);
  // Above 36 the 1 of expm1 is below the last digit.
  return shape * std::log(ratio) + (growth > 36 ? growth : std::log(std::expm1(growth)));
}

// x with x + ln x = a, that is Lambert's W of e^a.
double lambert_of_exp(double a) {
  double x = a > 1 ? a - std::log(a) : std::exp(a) / (1 + std::exp(a));
  if (x == 0) return 0;
  for (int i = 0; i < 4; ++i) x *= (1 + a - std::log(x)) / (1 + x);
  return x;
}

// Sums terms given by their logarithms.
double log_sum(const std::vector<double>& logs) {
  const double largest = *std::max_element(logs.begin(), logs.end());
  double sum = 0;
  for (const double log : logs) sum += std::exp(log - largest);
  return largest + std::log(sum);
}

struct Node {
  double place = 0;
  double weight = 0;
};

// Gauss-Legendre on 0..1: the zeros of the Legendre polynomial by Newton from their asymptotic places.
std::vector<Node> gauss_legendre(int count) {
  std::vector<Node> nodes;
  for (int i = 0; i < count; ++i) {
    double x = std::cos(std::numbers::pi * (i + 0.75) / (count + 0.5));
    double derivative = 1;
    for (int step = 0; step < 5; ++step) {
      double last = 1;
      double value = x;
      for (int n = 2; n <= count; ++n) {
        const double next = ((2 * n - 1) * x * value - (n - 1) * last) / n;
        last = value;
        value = next;
      }
      derivative = count * (last - x * value) / (1 - x * x);
      x -= value / derivative;
    }
    nodes.push_back({(1 - x) / 2, 1 / ((1 - x * x) * derivative * derivative)});
  }
  return nodes;
}

}  // namespace

LifePosterior::LifePosterior(const LifePrior& prior, const std::vector<WearEvidence>& evidence, double z_low,
                             double z_high)
    : z_low_(z_low) {
  require(prior.failed_at_rated > 0 && prior.failed_at_rated < 1,
          "the share failed at the rated life: 0 < F < 1");
  require(prior.life_spread >= 1 && std::isfinite(prior.life_spread), "a life spread must be at least 1");
  require(prior.shape_spread >= 1 && std::isfinite(prior.shape_spread), "a shape spread must be at least 1");
  require(prior.shape.low() > 0, "a Weibull shape must be above 0");
  require(std::isfinite(z_low) && std::isfinite(z_high) && z_low <= z_high,
          "z must be finite, its range rising");
  for (const WearEvidence& item : evidence) {
    require(item.ratio > 0 && std::isfinite(item.ratio), "a wear ratio must be above 0");
    require(item.count >= 1, "evidence counts at least one item");
    require(item.watched_from >= 0 && item.watched_from < item.ratio,
            "an item comes under watch at a wear of at least 0, and less than it has now");
    if (!item.failed) continue;
    failures_ += item.count;
    log_ratio_of_failures_ += item.count * std::log(item.ratio);
  }
  deviation_ = std::log(prior.life_spread);
  log_failed_ = std::log(-std::log1p(-prior.failed_at_rated));

  if (prior.shape_spread > 1) {
    shapes_ = lay_lognormal_shapes(prior.shape.base(), std::log(prior.shape_spread), z_low, z_high, evidence);
  } else if (prior.shape.is_fixed()) {
    shapes_ = {shape_of(prior.shape.base(), 0, evidence)};
  } else {
    for (const Node& node : gauss_legendre(range_shapes)) {
      shapes_.push_back(shape_of(prior.shape.quantile(node.place), std::log(node.weight), evidence));
    }
  }

  const double span = z_high - z_low;
  const int z_count =
      span > 0 ? 1 + static_cast<int>(std::clamp(std::ceil(span / z_spacing), 1.0, most_z - 1.0)) : 1;
  if (z_count > 1) z_step_ = span / (z_count - 1);
  for (int i = 0; i < z_count; ++i) {
    const double z = z_low + i * z_step_;
    const std::vector<Profile> at_z = profiles(z);
    double below = 0;
    for (const double share : shares_of(at_z)) cumulative_.push_back(below += share);
    cumulative_.back() = 1;
    if (deviation_ == 0) continue;
    for (const Profile& profile : at_z) tables_.push_back(tabulate(profile));
  }
}

LifePosterior::Shape LifePosterior::shape_of(double value, double log_prior,
                                             const std::vector<WearEvidence>& evidence) const {
  Shape shape;
  shape.value = value;
  shape.log_prior = log_prior;
  shape.prior_drop = log_failed_ / value;
  shape.log_front = failures_ * std::log(value) + value * log_ratio_of_failures_;
  std::vector<double> logs;
  for (const WearEvidence& item : evidence)
    logs.push_back(std::log(item.count) +
                   log_added_hazard(item.watched_from, item.ratio - item.watched_from, value));
  shape.log_wear = logs.empty() ? -infinity : log_sum(logs);
  return shape;
}

// The trapezoidal rule over the standard normal variate of ln(shape), where prior times likelihood has its
// mass.
std::vector<LifePosterior::Shape> LifePosterior::lay_lognormal_shapes(
    double base, double deviation, double z_low, double z_high,
    const std::vector<WearEvidence>& evidence) const {
  const auto shape_at = [&](double variate) {
    return shape_of(base * std::exp(deviation * variate), -variate * variate / 2, evidence);
  };
  const double furthest = std::min(furthest_shape, most_log_change / deviation);
  double first = furthest;
  double last = -furthest;
  for (const double z : {z_low, z_low + (z_high - z_low) / 2, z_high}) {
    double best = 0;
    double best_mass = laplace_log_mass(shape_at(0), z);
    for (const double direction : {-shape_stride, shape_stride}) {
      for (double t = best + direction; std::abs(t) <= furthest; t += direction) {
        const double mass = laplace_log_mass(shape_at(t), z);
        if (!(mass > best_mass)) break;
        best = t;
        best_mass = mass;
      }
    }
    const auto reach = [&](double direction) {
      double t = best;
      do t += direction;
      while (std::abs(t) < furthest && laplace_log_mass(shape_at(t), z) > best_mass - shape_drop);
      return t;
    };
    first = std::min(first, reach(-shape_stride));
    last = std::max(last, reach(shape_stride));
    if (z_low == z_high) break;
  }

  std::vector<Shape> shapes;
  const double step = (last - first) / (lognormal_shapes - 1);
  const double log_density = std::log(step) - std::log(2 * std::numbers::pi) / 2;
  for (int i = 0; i < lognormal_shapes; ++i) {
    shapes.push_back(shape_at(first + i * step));
    shapes.back().log_prior += log_density;
  }
  return shapes;
}

// ln(likelihood x prior density of y), without the constant of the normal density.
double LifePosterior::log_weight(const Shape& shape, double z, double y) const {
  // The limit keeps an impossible evidence under an exactly known scale from becoming infinitely unlikely.
  const double wear = std::exp(std::min(shape.log_wear - shape.value * y, 700.0));
  const double likelihood = -failures_ * shape.value * y - wear;
  if (deviation_ == 0) return likelihood;
  const double off = (y - (z - shape.prior_drop)) / deviation_;
  return likelihood - off * off / 2;
}

double LifePosterior::slope(const Shape& shape, double z, double y) const {
  const double wear = std::exp(shape.log_wear - shape.value * y);
  return shape.value * (wear - failures_) - (y - (z - shape.prior_drop)) / (deviation_ * deviation_);
}

double LifePosterior::curvature(const Shape& shape, double y) const {
  const double wear = std::exp(shape.log_wear - shape.value * y);
  return -shape.value * shape.value * wear - 1 / (deviation_ * deviation_);
}

// Where the slope is zero: y = low + x/shape with x e^x = deviation^2 shape^2 S e^(-shape low), S the worn
// sum.
double LifePosterior::mode(const Shape& shape, double z) const {
  const double centre = z - shape.prior_drop;
  if (deviation_ == 0) return centre;
  const double pull = deviation_ * deviation_ * shape.value;
  const double low = centre - pull * failures_;
  const double a = std::log(pull * shape.value) + shape.log_wear - shape.value * low;
  const double y = low + lambert_of_exp(a) / shape.value;
  // A wide prior puts `low` far away; one more step of Newton restores the digits that this costs.
  return y - slope(shape, z, y) / curvature(shape, y);
}

// How far to one side of the mode the log weight has dropped by y_drop. With x = shape (y - mode) and W the
// worn sum at the mode, the drop is W (e^-x - 1 + x) + x^2/(2 shape^2 deviation^2): convex, so Newton comes
// in from outside.
double LifePosterior::reach(const Shape& shape, double mode, double direction) const {
  const double log_worn = shape.log_wear - shape.value * mode;
  const double worn = std::exp(log_worn);
  const double stiffness = 1 / (shape.value * shape.value * deviation_ * deviation_);
  double x = worn > 0 ? y_drop / worn + 1 : infinity;
  if (direction < 0) {
    x = std::log(y_drop) - log_worn;  // e^x = y_drop / W, where W is small
    if (worn > 0) {
      x = std::sqrt(2 * y_drop / worn);
      for (int i = 0; i < 3; ++i) x = std::log1p(x + y_drop / worn);
    }
  }
  x = std::min(x, std::sqrt(2 * y_drop / stiffness));
  for (int i = 0; i < 3; ++i) {
    const double worn_there = std::exp(log_worn - direction * x);
    const double drop = worn_there - worn + direction * worn * x + stiffness * x * x / 2;
    x -= (drop - y_drop) / (direction * (worn - worn_there) + stiffness * x);
  }
  return x / shape.value;
}

double LifePosterior::laplace_log_mass(const Shape& shape, double z) const {
  const double y = mode(shape, z);
  const double spread = deviation_ == 0 ? 0 : std::log(-curvature(shape, y)) / 2;
  return shape.log_prior + shape.log_front + log_weight(shape, z, y) - spread;
}

// The trapezoidal rule is exact to about 1e-10 here: the weight is smooth and vanishes, with all its
// derivatives, at both ends.
LifePosterior::Profile LifePosterior::profile(const Shape& shape, double z) const {
  const double centre = mode(shape, z);
  const double peak = log_weight(shape, z, centre);
  Profile result;
  result.log_mass = shape.log_prior + shape.log_front + peak;
  result.first = centre;
  if (deviation_ == 0) {
    result.weight = {1};
    return result;
  }
  const double before = reach(shape, centre, -1);
  const double width = before + reach(shape, centre, 1);
  // The likelihood changes over 1/shape, which a very wide prior must not make too small for the cells.
  const double cells =
      std::floor(std::clamp(width * shape.value / finest_change, least_y_cells, most_y_cells));
  result.first = centre - before;
  result.step = width / cells;
  result.weight.resize(static_cast<std::size_t>(cells) + 1);
  result.slope.resize(result.weight.size());

  double worn = std::exp(shape.log_wear - shape.value * result.first);
  const double fading = std::exp(-shape.value * result.step);
  const double prior_centre = z - shape.prior_drop;
  const double precision = 1 / (deviation_ * deviation_);
  double sum = 0;
  for (std::size_t i = 0; i < result.weight.size(); ++i) {
    const double y = result.first + static_cast<double>(i) * result.step;
    const double off = (y - prior_centre) * precision;
    const double log_weight = -failures_ * shape.value * y - worn - off * (y - prior_centre) / 2;
    result.weight[i] = std::exp(log_weight - peak);
    result.slope[i] = shape.value * (worn - failures_) - off;
    sum += result.weight[i];
    worn *= fading;
  }
  result.log_mass += std::log(sum * result.step / deviation_) - std::log(2 * std::numbers::pi) / 2;
  return result;
}

std::vector<LifePosterior::Profile> LifePosterior::profiles(double z) const {
  std::vector<Profile> result;
  for (const Shape& shape : shapes_) result.push_back(profile(shape, z));
  return result;
}

template <class ChanceOf>
double LifePosterior::mean_chance(double z, ChanceOf chance_of) const {
  const std::vector<Profile> at_z = profiles(z);
  const std::vector<double> shares = shares_of(at_z);
  double chance = 0;
  for (std::size_t j = 0; j < shapes_.size(); ++j) {
    double weights = 0;
    double weighted = 0;
    for (std::size_t i = 0; i < at_z[j].weight.size(); ++i) {
      weights += at_z[j].weight[i];
      weighted += at_z[j].weight[i] * chance_of(j, at_z[j].first + static_cast<double>(i) * at_z[j].step);
    }
    chance += shares[j] * weighted / weights;
  }
  return std::clamp(chance, 0.0, 1.0);
}

LifeDraw LifePosterior::draw(double z, double u_shape, double u_scale) const noexcept {
  const std::size_t shapes = shapes_.size();
  const std::size_t z_count = cumulative_.size() / shapes;
  std::size_t row = 0;
  double part = 0;  // of the way to the next row
  if (z_count > 1) {
    const double place = std::clamp((z - z_low_) / z_step_, 0.0, static_cast<double>(z_count - 1));
    row = std::min(static_cast<std::size_t>(place), z_count - 2);
    part = place - static_cast<double>(row);
  } else {
    z = z_low_;
  }

  const double* here = cumulative_.data() + row * shapes;
  std::size_t j = 0;
  if (z_count > 1) {
    const double* next = here + shapes;
    while (j + 1 < shapes && u_shape >= here[j] + part * (next[j] - here[j])) ++j;
  } else {
    while (j + 1 < shapes && u_shape >= here[j]) ++j;
  }

  const Shape& shape = shapes_[j];
  if (tables_.empty()) return {shape.value, z - shape.prior_drop};
  const double y = tables_[row * shapes + j].quantile(u_scale);
  if (z_count == 1) return {shape.value, y};
  return {shape.value, y + part * (tables_[(row + 1) * shapes + j].quantile(u_scale) - y)};
}

double LifePosterior::failure_chance(double z, double ratio, double further) const {
  require(std::isfinite(z), "z must be finite");
  require(ratio >= 0 && std::isfinite(ratio), "a wear ratio must be at least 0");
  require(further >= 0 && std::isfinite(further), "a further wear ratio must be at least 0");
  if (further == 0) return 0;
  std::vector<double> log_added;
  for (const Shape& shape : shapes_) log_added.push_back(log_added_hazard(ratio, further, shape.value));
  return mean_chance(z, [&](std::size_t j, double y) {
    return -std::expm1(-std::exp(log_added[j] - shapes_[j].value * y));
  });
}

double LifePosterior::as_many_failures_chance(double z, const std::vector<WearEvidence>& items) const {
  require(std::isfinite(z), "z must be finite");
  std::size_t failures = 0;
  for (const WearEvidence& item : items) failures += item.failed ? static_cast<std::size_t>(item.count) : 0;
  if (failures == 0) return 1;
  std::vector<std::vector<double>> log_added(shapes_.size());
  for (std::size_t j = 0; j < shapes_.size(); ++j) {
    for (const WearEvidence& item : items)
      log_added[j].push_back(
          log_added_hazard(item.watched_from, item.ratio - item.watched_from, shapes_[j].value));
  }
  std::vector<double> exactly(failures);  // chance of 0, 1 ... failures among the items so far
  return mean_chance(z, [&](std::size_t j, double y) {
    double as_many = 0;
    if (failures == 1) {
      double hazard = 0;
      for (std::size_t i = 0; i < items.size(); ++i)
        hazard += items[i].count * std::exp(log_added[j][i] - shapes_[j].value * y);
      return -std::expm1(-hazard);
    }
    std::fill(exactly.begin(), exactly.end(), 0.0);
    exactly[0] = 1;
    for (std::size_t i = 0; i < items.size(); ++i) {
      const double hazard = std::exp(log_added[j][i] - shapes_[j].value * y);
      const double works = std::exp(-hazard);
      const double fails = -std::expm1(-hazard);
      for (int piece = 0; piece < items[i].count; ++piece) {
        as_many += exactly[failures - 1] * fails;
        for (std::size_t k = failures - 1; k > 0; --k)
          exactly[k] = exactly[k] * works + exactly[k - 1] * fails;
        exactly[0] *= works;
      }
    }
    return as_many;
  });
}

double LifePosterior::median_life_quantile(double z, double u) const {
  require(std::isfinite(z), "z must be finite");
  require(u > 0 && u < 1, "a quantile needs a share strictly between 0 and 1");
  const std::vector<Profile> at_z = profiles(z);
  const std::vector<double> shares = shares_of(at_z);
  // ln(median / w) = y + ln(ln 2)/shape: a mixture over the shapes, whose quantile lies between those of its
  // parts.
  std::vector<InverseTable> tables;
  std::vector<double> shifts;
  double low = infinity;
  double high = -infinity;
  for (std::size_t j = 0; j < shapes_.size(); ++j) {
    shifts.push_back(std::log(std::numbers::ln2) / shapes_[j].value);
    if (deviation_ > 0) tables.push_back(tabulate(at_z[j]));
    const double quantile = shifts[j] + (deviation_ > 0 ? tables[j].quantile(u) : at_z[j].first);
    low = std::min(low, quantile);
    high = std::max(high, quantile);
  }
  const auto share_below = [&](double log_median) {
    double share = 0;
    for (std::size_t j = 0; j < shapes_.size(); ++j) {
      const double y = log_median - shifts[j];
      share += shares[j] * (deviation_ > 0 ? tables[j].share_below(y) : y >= at_z[j].first ? 1 : 0);
    }
    return share;
  };
  for (int i = 0; i < 60 && low < high; ++i) {
    const double middle = low + (high - low) / 2;
    (share_below(middle) < u ? low : high) = middle;
  }
  return std::exp(high);
}

double LifePosterior::log_marginal(double z) const {
  require(std::isfinite(z), "z must be finite");
  return log_mass_of(profiles(z));
}

// The table of y from a profile: each cell takes mass and mean of the cubic through both ends with both
// slopes.
InverseTable LifePosterior::tabulate(const Profile& profile) {
  std::vector<double> edges(profile.weight.size());
  std::vector<InverseTable::Cell> cells(edges.size() - 1);
  for (std::size_t i = 0; i < edges.size(); ++i)
    edges[i] = profile.first + static_cast<double>(i) * profile.step;
  for (std::size_t i = 0; i < cells.size(); ++i) {
    const double left = profile.weight[i];
    const double right = profile.weight[i + 1];
    const double left_slope = left * profile.slope[i] * profile.step;
    const double right_slope = right * profile.slope[i + 1] * profile.step;
    const double mass = (left + right) / 2 + (left_slope - right_slope) / 12;
    const double moment = 0.15 * left + 0.35 * right + left_slope / 30 - right_slope / 20;
    // Where the weight falls off a cliff within a cell the cubic may dip below zero: there is nothing there.
    if (mass > 0) cells[i] = {mass, moment / mass};
  }
  return InverseTable(edges, cells);
}

double LifePosterior::log_mass_of(const std::vector<Profile>& at_z) {
  std::vector<double> masses;
  for (const Profile& profile : at_z) masses.push_back(profile.log_mass);
  return log_sum(masses);
}

std::vector<double> LifePosterior::shares_of(const std::vector<Profile>& at_z) {
  const double total = log_mass_of(at_z);
  std::vector<double> shares;
  for (const Profile& profile : at_z) shares.push_back(std::exp(profile.log_mass - total));
  return shares;
}

}  // namespace mendworth
