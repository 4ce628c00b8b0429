#pragma once

#include <vector>

#include "mendworth/lifetime.hpp"

namespace mendworth::lifetime {

/// Turnbull's estimate for failures known as intervals (lower end < life <= upper end), exact failures and
/// survivors: the masses of greatest likelihood on the innermost intervals, by self-consistency with squared
/// extrapolation, until no mass moves by 1e-10 or a bound on the work is met. The mass of an innermost
/// interval may lie anywhere in it; its step stands at the upper end. Late watching: each piece counts given
/// that it reached the age when it was first seen; these ages end innermost intervals too. Sources: B. W.
/// Turnbull, Journal of the Royal Statistical Society B 38 (1976); late watching: H. Frydman, the same B 56
/// (1994); extrapolation: R. Varadhan and C. Roland, Scandinavian Journal of Statistics 35 (2008), scheme S3.
[[nodiscard]] SurvivalCurve turnbull(const std::vector<LifeRecord>& records);

}  // namespace mendworth::lifetime
