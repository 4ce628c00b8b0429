#pragma once

#include <string>
#include <vector>

#include "mendworth/bulk.hpp"
#include "mendworth/case.hpp"

namespace mendworth {

/// A case whose candidate is sold as one quotation says, and nowhere else.
struct QuotedCase {
  std::string quotation;
  int part = 0, candidate = 0;
  Case c;
};

/// One for each candidate of each quotation, in their order. Throws InputError, with every problem, if a quotation
/// names a candidate or supplier that the case does not have, or a currency that is neither the supplier's nor the
/// case's.
[[nodiscard]] std::vector<QuotedCase> quoted_cases(const Case& c,
                                                   const std::vector<QuotedLadder>& quotations);

}  // namespace mendworth
