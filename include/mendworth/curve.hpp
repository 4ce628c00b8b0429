#pragma once

#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "mendworth/bulk.hpp"
#include "mendworth/buy.hpp"
#include "mendworth/weigh.hpp"

/// How an answer goes as one or two numbers of the case vary: at each point that of the case with these values.
namespace mendworth {

struct VariedKey {
  std::string key;  ///< as an override names it
  double from = 0, to = 0;
  int steps = 1;  ///< >= 1
  /// from, to and what divides the way between them evenly; rounded to 12 digits, so that they can be copied.
  [[nodiscard]] std::vector<double> values() const;
};

/// A line of an order.
struct CurveLine {
  std::string candidate, supplier;
  int quantity = 0;
  double each = 0;  ///< supplier's currency
  friend bool operator==(const CurveLine&, const CurveLine&) = default;
};

struct CurvePoint {
  std::vector<double> at;       ///< one for each key
  std::string course;           ///< what is best: "repair", "replace", ...
  std::optional<double> value;  ///< Curve::value_name; absent where there is none
  double error = 0;             ///< one standard error of the value; 0 where none is known
  double money_now = 0;
  int pieces = 0;  ///< that the best order has
  std::vector<CurveLine> lines{};
  double shipping = 0;  ///< of that order
};

/// Where the course of a curve of one number changes.
struct CurveBreak {
  double low = 0, high = 0;  ///< between these
  std::string what;          ///< "price break: 0.39 each from 10 pieces"
};

struct Curve {
  std::string source_name, device, currency;
  int minor_digits = 2;
  std::string command;     ///< "weigh", "buy" or "bulk"
  std::string value_name;  ///< "saving", "net cost", "expected cost"
  std::uint64_t seed = 1;
  int futures = 0;
  std::vector<VariedKey> keys;     ///< one or two
  std::vector<CurvePoint> points;  ///< the last key varies fastest
  std::vector<CurveBreak> breaks;  ///< rising; of one key alone
};

/// What a curve shows of an answer; `at` stays empty.
[[nodiscard]] CurvePoint curve_point(const Weighing& w);
[[nodiscard]] CurvePoint curve_point(const Buying& b);
[[nodiscard]] CurvePoint curve_point(const BulkAnswer& a);  ///< of its first demand

/// Fills points and breaks: `point_at` gives the point at values of the keys. Where two neighbours differ in their course
/// or in what they order, the place is narrowed down by further points.
void trace(Curve& curve, const std::function<CurvePoint(const std::vector<double>&)>& point_at);

}  // namespace mendworth
