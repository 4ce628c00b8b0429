#pragma once

#include "mendworth/lifetime.hpp"
#include "render/chart.hpp"

namespace mendworth {

/// The share still working against age: the fitted law, and the distribution-free curve with its limits. Empty if there
/// is neither.
[[nodiscard]] Chart survival_chart(const Lifetime& lifetime, const GroupLifetime& group);

/// All groups on Weibull probability paper: with ln age across and ln(-ln R) up every Weibull law is a straight line
/// whose slope is the shape. Limits of a law are the normal ones.
[[nodiscard]] Chart weibull_paper(const Lifetime& lifetime);

}  // namespace mendworth
