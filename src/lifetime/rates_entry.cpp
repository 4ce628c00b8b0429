#include <algorithm>
#include <cmath>
#include <stdexcept>

#include <fmt/format.h>

#include "base/plain_number.hpp"
#include "base/toml_quoted.hpp"
#include "mendworth/lifetime.hpp"

namespace mendworth {
namespace {

constexpr double most_spread = 100;  // what a rates table may hold
constexpr double least_shape = 0.1, most_shape = 20;
constexpr double most_life = 1e12;

bool is_name(const std::string& name) {
  return !name.empty() && std::all_of(name.begin(), name.end(), [](char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-';
  });
}

const char* unit_word(LifeUnit unit) {
  switch (unit) {
    case LifeUnit::cycles: return "cycles";
    case LifeUnit::hours: return "hours";
    case LifeUnit::years: return "years";
  }
  return "";
}

// The reader of rates takes no control characters: a space stands for each.
std::string quoted(std::string text) {
  const auto is_control = [](char c) { return (c >= 0 && c < ' ') || c == 0x7F; };
  std::replace_if(text.begin(), text.end(), is_control, ' ');
  return toml_quoted(text);
}

// TOML tells 3.0 from 3, and takes either where a quantity is asked for.
std::string number(double value) { return fmt::format("{:.6g}", value); }

double spread(double variance) { return std::min(std::exp(std::sqrt(variance)), most_spread); }

std::string source(const GroupLifetime& group, const Lifetime& from) {
  const double failed = group.failed_exact + group.failed_between + group.failed_before;
  std::string text =
      fmt::format("{:.10g} failed and {:.10g} still working in {}", failed, group.working, from.source_name);
  if (!from.part.empty()) {
    text += fmt::format(", part {}", from.part);
  } else if (from.parts.size() > 1) {
    text += fmt::format(", {} parts as one", from.parts.size());
  }
  if (!group.name.empty()) text += fmt::format(", group {}", group.name);
  return text + ": Weibull law of maximum likelihood";
}

}  // namespace

std::string rates_entry(const GroupLifetime& group, const Lifetime& from, const std::string& name) {
  if (!is_name(name)) throw std::invalid_argument("a name in the rates is of letters, digits and hyphens");
  if (!group.fit) throw std::invalid_argument("A rates entry needs a fitted law. " + group.no_fit_reason);
  const WeibullFit& fit = *group.fit;
  const double shape = fit.shape.value;
  if (!(shape >= least_shape && shape <= most_shape)) {
    throw std::invalid_argument(
        fmt::format("a shape of {:.3g} is not one that a rates table may hold ({} to {})", shape, least_shape,
                    most_shape));
  }
  // ln(life at which H = exp(k)) = ln(scale) + k/shape; its covariance with ln(shape) is
  // cov(ln scale, ln shape) - k/shape var(ln shape), 0 at this k.
  const double wanted = shape * fit.cov_log_scale_log_shape / fit.var_log_shape;
  const double share = std::clamp(-std::expm1(-std::exp(wanted)), 0.001, 0.999);
  const double written_share = std::round(1000 * share) / 1000;
  const double k = std::log(-std::log1p(-written_share));
  const double life = fit.scale.value * std::exp(k / shape);
  if (!(life > 0 && life <= most_life)) {
    throw std::invalid_argument(fmt::format("a life of {:.3g} is not one that a rates table may hold", life));
  }
  const double variance = fit.var_log_scale - 2 * k / shape * fit.cov_log_scale_log_shape +
                          k * k / (shape * shape) * fit.var_log_shape;

  std::string out;
  out +=
      "# rated_life is the life at which the share failed_at_rated has failed. It is written for the share "
      "at which\n";
  out +=
      "# the estimates of life and shape are uncorrelated, so the two spreads hold all that the record "
      "leaves open.\n";
  out += fmt::format("# B10 life {}, median life {} {}.\n", number_text(fit.b10.value),
                     number_text(fit.median.value), unit_word(from.unit));
  out += fmt::format("[life.{}]\n", name);
  out += fmt::format("unit = \"{}\"\n", unit_word(from.unit));
  out += fmt::format("rated_life = {}\n", number(life));
  out += fmt::format("failed_at_rated = {}\n", number(written_share));
  out += fmt::format("life_spread = {}\n", number(spread(variance)));
  out += fmt::format("shape = {}\n", number(shape));
  out += fmt::format("shape_spread = {}\n", number(spread(fit.var_log_shape)));
  out += fmt::format("source = {}\n", quoted(source(group, from)));
  return out;
}

}  // namespace mendworth
