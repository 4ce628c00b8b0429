#include "cli/vary.hpp"

#include <charconv>
#include <cmath>
#include <optional>
#include <string_view>

#include "cli/values.hpp"

namespace mendworth::cli {

namespace {

constexpr std::uint64_t most_steps = 200;
constexpr int most_points = 1000;
constexpr double largest_end = 1e12;

/// "KEY=FROM:TO:STEPS"; a key may hold colons, its values may not.
std::optional<VariedKey> varied_key(const std::string& word) {
  const std::size_t equals = word.rfind('=');
  if (equals == std::string::npos || equals == 0) return std::nullopt;
  const std::string_view range = std::string_view(word).substr(equals + 1);
  const std::size_t first = range.find(':'), second = range.rfind(':');
  if (first == std::string_view::npos || first == second) return std::nullopt;
  const auto from = decimal_number(range.substr(0, first), -largest_end, largest_end);
  const auto to = decimal_number(range.substr(first + 1, second - first - 1), -largest_end, largest_end);
  const auto steps = whole_number(range.substr(second + 1), 1, most_steps);
  if (!from || !to || !steps || *from >= *to) return std::nullopt;
  return VariedKey{word.substr(0, equals), *from, *to, static_cast<int>(*steps)};
}

}  // namespace

void add_vary_option(OptionSet& set, std::vector<VariedKey>& keys) {
  set.repeatable({"--vary", "KEY=FROM:TO:STEPS", "The answer as this number varies; once or twice"},
                 [&keys](const std::string& word) -> std::string {
                   const auto key = varied_key(word);
                   if (!key)
                     return fmt::format(
                         "wants KEY=FROM:TO:STEPS, FROM below TO and 1 to {} steps, for instance "
                         "labour.rate_per_hour=10:60:5",
                         most_steps);
                   if (keys.size() == 2) return "goes once or twice";
                   keys.push_back(*key);
                   const bool many =
                       keys.size() == 2 && (keys[0].steps + 1) * (keys[1].steps + 1) > most_points;
                   return many ? fmt::format("comes to more than {} points", most_points) : "";
                 });
}

}  // namespace mendworth::cli
