#include "numeric/poisson_stock.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <boost/math/special_functions/gamma.hpp>
#include <cmath>
#include <stdexcept>

namespace mendworth {
namespace {

// Terms beyond this share of one demand are nothing.
constexpr double negligible_tail = 1e-14;
// A smaller exponent makes the closed form a small number times a large one.
constexpr double least_exponent = 1e-3;
// Recurrences over demands: up to so many their first term is no nought, and below this ratio errors do not grow.
constexpr double most_demands = 500.0, most_ratio = 1.1;

void check(int most, double rate, double time) {
  const bool good = most >= 0 && rate >= 0 && std::isfinite(rate) && time >= 0 && std::isfinite(time);
  if (!good) throw std::domain_error("a stock needs most >= 0, rate >= 0 and time >= 0");
}

/// E[exp(-log_growth T_i); T_i <= until] as the integral of its density.
double use_by_quadrature(int i, double rate, double until, double log_growth) {
  const auto density = [=](double t) {
    return rate * boost::math::gamma_p_derivative(static_cast<double>(i), rate * t) *
           std::exp(-log_growth * t);
  };
  return boost::math::quadrature::gauss_kronrod<double, 31>::integrate(density, 0.0, until, 10, 1e-12);
}

}  // namespace

std::vector<double> stock_uses(int most, double rate, double until, double log_growth) {
  check(most, rate, until);
  std::vector<double> uses(static_cast<std::size_t>(most) + 1, 0.0);
  if (rate * until == 0.0) return uses;
  const double k = rate + log_growth;
  bool over = false;
  for (int i = 1; i <= most; ++i) {
    double use = 0;
    if (!over) {
      use = k * until > least_exponent
                ? std::exp(i * std::log(rate / k)) * boost::math::gamma_p(static_cast<double>(i), k * until)
                : use_by_quadrature(i, rate, until, log_growth);
      over = use < negligible_tail && i > rate * until;
    }
    uses[static_cast<std::size_t>(i)] = uses[static_cast<std::size_t>(i - 1)] + use;
  }
  return uses;
}

std::vector<double> stock_left(int most, double rate, double at) {
  check(most, rate, at);
  std::vector<double> left(static_cast<std::size_t>(most) + 1, 0.0);
  double chance = 0;
  for (int i = 1; i <= most; ++i) {
    if (chance < 1.0 - negligible_tail) {
      chance = rate * at == 0.0 ? 1.0 : boost::math::gamma_q(static_cast<double>(i), rate * at);
    }
    left[static_cast<std::size_t>(i)] = left[static_cast<std::size_t>(i - 1)] + chance;
  }
  return left;
}

/// The i-th demand, from 0, finds a piece with the chance that fewer than i + 1 have come, so that uses are the sum over
/// i < pieces of A_i = integral of rate (rate t)^i / i! exp(-k t) dt up to `until`, k = rate + log_growth. By parts,
/// A_i = rate/k (A_{i-1} - (rate until)^i / i! exp(-k until)).
StockCourse stock_course(int pieces, double rate, double until, double log_growth) {
  check(pieces, rate, until);
  const double demands = rate * until, k = rate + log_growth;
  if (pieces == 0 || demands == 0.0) return {.uses = 0.0, .left = static_cast<double>(pieces)};
  if (demands > most_demands || k * most_ratio < rate) {
    return {.uses = stock_uses(pieces, rate, until, log_growth).back(),
            .left = stock_left(pieces, rate, until).back()};
  }
  const double ratio = rate / k;
  double term = 1.0;  // demands^i / i!
  const double none_come = std::exp(-demands), discounted = std::exp(-k * until);
  double used = ratio * (k * until > least_exponent ? 1.0 - discounted : -std::expm1(-k * until));
  double fewer = none_come;  // the chance that no more than i have come
  StockCourse course{.uses = used, .left = fewer};
  for (int i = 1; i < pieces; ++i) {
    if (fewer > 1.0 - negligible_tail) {
      course.left += pieces - i;
      break;
    }
    term *= demands / i;
    used = std::max(0.0, ratio * (used - term * discounted));
    fewer += term * none_come;
    course.uses += used;
    course.left += fewer;
  }
  return course;
}

}  // namespace mendworth
