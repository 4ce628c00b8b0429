#include "input/problems.hpp"

#include <algorithm>
#include <utility>

#include <fmt/format.h>

namespace mendworth::input {

namespace {

constexpr const char* override_name = "--set";

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
  problem.remedy = std::move(remedy);
  found_.push_back(std::move(problem));
}

void Problems::throw_if_any() {
  if (found_.empty()) return;
  const auto is_override = [](const Diagnostic& d) { return d.source == override_name; };
  std::stable_sort(found_.begin(), found_.end(), [&](const Diagnostic& a, const Diagnostic& b) {
    if (is_override(a) != is_override(b)) return is_override(b);
    return a.line != b.line ? a.line < b.line : a.column < b.column;
  });
  if (left_out_ > 0) {
    found_.push_back({source_name_, 0, 0, "", fmt::format("and {} more problems", left_out_), ""});
  }
  throw InputError(std::move(found_));
}

}  // namespace mendworth::input
