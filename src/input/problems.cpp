#include "input/problems.hpp"

#include <algorithm>
#include <string_view>
#include <utility>

#include <fmt/format.h>

namespace mendworth::input {

namespace {

constexpr const char* override_name = "--set";

/// "write price under [[part.offer]]" as --set has it: "write part.1.offer.1.price". The first list keeps the number
/// that it has in the key which is not known.
std::string as_override(const std::string& remedy, const std::string& key) {
  constexpr std::string_view write = "write ", under = " under [";
  const std::size_t begin = remedy.find(under), end = remedy.find(']');
  if (!remedy.starts_with(write) || begin > end || end == std::string::npos) return remedy;
  std::string table = remedy.substr(begin + under.size(), end - begin - under.size());
  std::string rest = remedy.substr(end + 1);
  if (table.starts_with('[')) {
    table.erase(0, 1);
    rest.erase(0, 1);
    const std::string first = table.substr(0, table.find('.')) + '.';
    std::string number = "1";
    if (key.starts_with(first) && first.size() < key.size() && key[first.size()] >= '1' &&
        key[first.size()] <= '9')
      number = key.substr(first.size(), key.find('.', first.size()) - first.size());
    const std::string within = first.size() < table.size() ? table.substr(first.size()) + ".1" : "";
    table = first + number + (within.empty() ? "" : '.' + within);
  }
  return fmt::format("{}{}.{}{}", write, table, remedy.substr(write.size(), begin - write.size()), rest);
}

}  // namespace

void Problems::add(Place place, std::string key, std::string message, std::string remedy) {
  if (found_.size() >= most_reported_) {
    ++left_out_;
    return;
  }
  Diagnostic problem;
  problem.source = place.override_ ? override_name : source_name_;
  problem.line = place.override_ ? 0 : place.line;
  problem.column = place.override_ ? 0 : place.column;
  problem.key = std::move(key);
  problem.message = std::move(message);
  problem.remedy = place.override_ ? as_override(remedy, problem.key) : std::move(remedy);
  found_.push_back(std::move(problem));
}

void Problems::throw_if_any() {
  if (found_.empty()) return;
  const auto is_override = [](const Diagnostic& d) { return d.source == override_name; };
  std::ranges::stable_sort(found_, [&](const Diagnostic& a, const Diagnostic& b) {
    if (is_override(a) != is_override(b)) return is_override(b);
    return a.line != b.line ? a.line < b.line : a.column < b.column;
  });
  if (left_out_ > 0) {
    found_.push_back({source_name_, 0, 0, "", fmt::format("and {} more problems", left_out_), ""});
  }
  throw InputError(std::move(found_));
}

}  // namespace mendworth::input
