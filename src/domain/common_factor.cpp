#include "domain/common_factor.hpp"

#include <algorithm>
#include <array>

namespace mendworth {

namespace {

constexpr std::array factors = {
    CommonFactor{"common.part_price", "part.candidate.offer.price or part.offer.price"},
    CommonFactor{"common.shipping", "supplier.shipping"},
    CommonFactor{"common.lead_days", "supplier.lead_days"},
    CommonFactor{"common.minutes",
                 "labour.case_minutes, labour.visit_minutes, position.minutes, risk.mend_minutes and "
                 "risk.dry_fit_minutes"},
    CommonFactor{"common.mate_wear", "position.share of the positions that still work"},
    CommonFactor{"common.shape", "part.shape and part.candidate.shape"},
    CommonFactor{"common.leftovers_used", "part.other_uses_per_year"},
};

}  // namespace

const CommonFactor* find_common_factor(std::string_view key) noexcept {
  const auto found =
      std::find_if(factors.begin(), factors.end(), [key](const CommonFactor& f) { return f.key == key; });
  return found == factors.end() ? nullptr : &*found;
}

}  // namespace mendworth
