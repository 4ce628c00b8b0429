#pragma once

#include <string>

#include "mendworth/lifetime.hpp"

/// Words and numbers that the text and the image of a lifetime share.
namespace mendworth {

/// A limit as LifeEstimate has it: 0 or infinity means that there is none.
[[nodiscard]] bool is_limit(double value) noexcept;

/// "45100 to 61000"; "none" in the place of a limit that does not exist.
[[nodiscard]] std::string life_limits_text(double low, double high);
/// The same for shares, as percentages.
[[nodiscard]] std::string share_limits_text(double low, double high);

/// "95 %", for a confidence.
[[nodiscard]] std::string confidence_text(double confidence);

/// "0.47", "0.0031", "below 0.0001": the chance of a statistic as large.
[[nodiscard]] std::string chance_text(double chance);

/// All pieces of a group.
[[nodiscard]] double pieces_of(const GroupLifetime& group) noexcept;
/// Those of them that failed.
[[nodiscard]] double failures_of(const GroupLifetime& group) noexcept;

}  // namespace mendworth
