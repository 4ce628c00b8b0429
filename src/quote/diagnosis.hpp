#pragma once

#include <optional>

#include "mendworth/quote.hpp"

namespace mendworth {

struct DiagnosisTerms {
  double fee = 0;         ///< without tax; 0: none
  bool credited = true;   ///< not charged if the job goes ahead
  double cost = 0;        ///< of the diagnosis to the shop
  double job_margin = 0;  ///< expected, of a job that goes ahead, its diagnosis and its fee included
  std::optional<Quantity> walk_away;  ///< share of customers who do not go ahead
};

/// What a device brought in earns if its owner may walk away after the diagnosis: with a share w of them,
///   w (fee - cost) + (1 - w) job margin,
/// and the fee and the share at which that is nothing.
[[nodiscard]] DiagnosisAnswer diagnosis_answer(const DiagnosisTerms& terms);

}  // namespace mendworth
