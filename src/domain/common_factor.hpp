#pragma once

#include <string_view>

/// Factors common to several entries of a case. Answers turn such a factor and name it by a key of its own
/// ("common.lead_days"); a case and --set know the entries behind it only.
namespace mendworth {

struct CommonFactor {
  std::string_view key;
  std::string_view entries;  ///< keys of the entries behind it, without the numbers of lists
};

/// The factor of that key; null if there is none.
[[nodiscard]] const CommonFactor* find_common_factor(std::string_view key) noexcept;

}  // namespace mendworth
