#include "render/lifetime_words.hpp"

#include <fmt/format.h>

#include <cmath>

#include "render/layout.hpp"
#include "render/number_text.hpp"

namespace mendworth {

bool is_limit(double value) noexcept { return std::isfinite(value) && value > 0; }

namespace {

std::string limits_text(double low, double high, std::string (*text)(double)) {
  if (!is_limit(low) && !is_limit(high)) return "none";
  const auto one = [&](double limit) { return is_limit(limit) ? text(limit) : std::string("none"); };
  return kept_together(fmt::format("{} to {}", one(low), one(high)));
}

}  // namespace

std::string life_limits_text(double low, double high) { return limits_text(low, high, life_text); }

std::string share_limits_text(double low, double high) { return limits_text(low, high, percent_text); }

std::string confidence_text(double confidence) {
  return kept_together(decimals_text(100 * confidence, 2) + " %");
}

std::string chance_text(double chance) {
  constexpr double least_shown = 0.0001;
  if (chance < least_shown) return "below 0.0001";
  return fmt::format("{:.2g}", chance);
}

double pieces_of(const GroupLifetime& group) noexcept { return failures_of(group) + group.working; }

double failures_of(const GroupLifetime& group) noexcept {
  return group.failed_exact + group.failed_between + group.failed_before;
}

}  // namespace mendworth
