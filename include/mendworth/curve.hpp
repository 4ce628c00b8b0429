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

/// A number that is varied, and how far.
struct VariedKey {
  std::string key;      ///< as an override names it
  double from = 0;      ///< the first value, in the unit of the key
  double to = 0;        ///< the last one
  int steps = 1;        ///< >= 1
  std::string label{};  ///< in words, with the unit; may be empty
  /// from, to and what divides the way between them evenly; rounded to 12 digits, so that they can be copied.
  [[nodiscard]] std::vector<double> values() const;
};

/// A line of an order.
struct CurveLine {
  std::string candidate;                                                 ///< what is ordered
  std::string supplier;                                                  ///< of whom
  int quantity = 0;                                                      ///< pieces
  double each = 0;                                                       ///< supplier's currency
  friend bool operator==(const CurveLine&, const CurveLine&) = default;  ///< all alike
};

/// The answer at one value of each varied number.
struct CurvePoint {
  std::vector<double> at;          ///< one for each key
  std::string course;              ///< what is best: "repair", "replace", ...
  std::optional<double> value;     ///< Curve::value_name; absent where there is none
  double error = 0;                ///< one standard error of the value; 0 where none is known
  double money_now = 0;            ///< to pay for the best course now, own time not counted
  int pieces = 0;                  ///< that the best order has
  std::vector<CurveLine> lines{};  ///< of the best order
  double shipping = 0;             ///< of that order
};

/// Where the course of a curve of one number changes.
struct CurveBreak {
  double low = 0;    ///< the value below it, at which the course is still the earlier one
  double high = 0;   ///< and above it, at which it is the later
  std::string what;  ///< "price break: 0.39 each from 10 pieces"
};

/// An answer followed along one number or over two. Money in the case's currency.
struct Curve {
  std::string source_name;         ///< the case's file
  std::string device;              ///< its name
  std::string currency;            ///< of every sum but prices each, ISO 4217
  int minor_digits = 2;            ///< digits after the point, ISO 4217
  std::string command;             ///< "weigh", "buy" or "bulk"
  std::string value_name;          ///< "saving", "net cost", "expected cost"
  std::uint64_t seed = 1;          ///< of the random numbers: one seed, one answer
  int futures = 0;                 ///< asked for; 0: as many as the precision takes
  std::vector<VariedKey> keys;     ///< one or two
  std::vector<CurvePoint> points;  ///< the last key varies fastest
  std::vector<CurveBreak> breaks;  ///< rising; of one key alone
};

/// What a curve shows of an answer; `at` stays empty.
[[nodiscard]] CurvePoint curve_point(const Weighing& w);    ///< the saving
[[nodiscard]] CurvePoint curve_point(const Buying& b);      ///< net cost of the best basket
[[nodiscard]] CurvePoint curve_point(const BulkAnswer& a);  ///< of its first demand

/// Fills points and breaks: `point_at` gives the point at values of the keys. Where two neighbours differ in their course
/// or in what they order, the place is narrowed down by further points.
void trace(Curve& curve, const std::function<CurvePoint(const std::vector<double>&)>& point_at);

}  // namespace mendworth
