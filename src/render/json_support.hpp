#pragma once

#include <cmath>
#include <nlohmann/json.hpp>
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

/// What the writers of JSON share.
namespace mendworth {

using Json = nlohmann::ordered_json;

/// The library's writer would turn a NaN into null without a word.
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

/// Names come from files; bytes that are no UTF-8 must not stop the answer.
inline std::string written(const Json& json) {
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

}  // namespace mendworth
