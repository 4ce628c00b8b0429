#pragma once

#include <memory>
#include <optional>
#include <string>

#include "mendworth/weigh.hpp"

namespace mendworth {

/// Usual `precision_share` of rows: coarser than what a weighing of one device is asked for.
inline constexpr double usual_row_precision = 0.02;

/// The answer for one row; that of a weighing with the same settings, as far as it goes.
struct RowAnswer {
  std::string currency;  ///< of the case, ISO 4217
  int minor_digits = 2;  ///< digits after the point, ISO 4217
  Verdict verdict;       ///< as of a weighing
  double money_now = 0;  ///< of the best course, if all goes well; own time not counted
  /// Price of the best replacement, in its own currency, at which repairing and replacing cost the same, the
  /// nearest to its own; of one without a price, what a working one must be worth. Absent: at none.
  std::optional<double> turning_price{};
};

/// Answers rows one after the other or side by side. What rows have in common is worked out once; an answer is that of
/// its row alone, deterministic in (case, settings).
class RowAnswerer {
 public:
  /// `rates` must outlive this. Throws std::invalid_argument if a setting is out of range.
  RowAnswerer(const RateBook& rates, const WeighSettings& settings);
  ~RowAnswerer();
  RowAnswerer(const RowAnswerer&) = delete;
  RowAnswerer& operator=(const RowAnswerer&) = delete;

  /// Threads may ask at the same time. Throws InputError if the case does not pass `check`.
  [[nodiscard]] RowAnswer operator()(const Case& c) const;

 private:
  struct Shared;
  std::unique_ptr<Shared> shared_;
};

}  // namespace mendworth
