#pragma once

#include <cmath>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "mendworth/weigh.hpp"
#include "render/json_value.hpp"

/// What the writers of JSON share.
namespace mendworth {

/// JSON knows no infinity and no NaN, and the library would write null without a word.
inline Json number(double value) {
  if (!std::isfinite(value)) throw std::logic_error("a number of the answer is not finite");
  return value == 0 ? Json(0.0) : Json(value);
}

inline Json number(const std::optional<double>& value) { return value ? number(*value) : Json(nullptr); }

template <class T>
Json list(const std::vector<T>& items, Json (*one)(const T&)) {
  Json out = Json::array();
  for (const T& item : items) out.push_back(one(item));
  return out;
}

template <class T>
Json maybe(const std::optional<T>& item, Json (*one)(const T&)) {
  return item ? one(*item) : Json(nullptr);
}

[[nodiscard]] inline Json caution_json(const Weighing::Caution& c) {
  return {{"hazard", c.hazard},
          {"title", c.title},
          {"licensed_only", c.licensed_only},
          {"sentences", c.sentences}};
}

/// A line of an order, its prices in the supplier's currency under the names that a schema has for them.
[[nodiscard]] inline Json bought_line_json(const OrderLine& l, const char* each, const char* line) {
  return {{"part", l.part},
          {"candidate", l.candidate},
          {"supplier", l.supplier},
          {"supplier_currency", l.supplier_currency},
          {"needed_pieces", l.needed},
          {"ordered_pieces", l.quantity},
          {each, number(l.each)},
          {line, number(l.line)},
          {"landed_cost", number(l.landed)}};
}

[[nodiscard]] inline Json bought_line_json(const OrderLine& l) {
  return bought_line_json(l, "each_price", "line_price");
}

/// How a verdict and its confidence are named in data.
inline const char* word(VerdictKind kind) {
  switch (kind) {
    case VerdictKind::repair: return "repair";
    case VerdictKind::replace: return "replace";
    case VerdictKind::leave: return "leave";
    case VerdictKind::keep: return "keep";
    case VerdictKind::price_unknown: return "price_unknown";
    case VerdictKind::refer: return "refer";
  }
  return "";
}

inline const char* word(Confidence confidence) {
  switch (confidence) {
    case Confidence::clear: return "clear";
    case Confidence::leaning: return "leaning";
    case Confidence::toss_up: return "toss_up";
  }
  return "";
}

}  // namespace mendworth
