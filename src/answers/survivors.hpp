#pragma once

#include "answers/contest.hpp"

namespace mendworth {

/// Fills in what the device's own parts tell about their lives, one entry for each part with evidence, and every
/// surviving original by group: its chance to fail, and what renewing it now costs against later. After w.order: a
/// spare that this leaves saves the later opening its order.
void add_survivors(Weighing& w, const Contest& contest, ModelCache& cache, const WeighSettings& settings);

}  // namespace mendworth
