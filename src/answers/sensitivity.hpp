#pragma once

#include <vector>

#include "answers/knobs.hpp"
#include "answers/what_if.hpp"

namespace mendworth {

/// One row for each number that the case knows as a range only, and for each named one; widest swing first.
[[nodiscard]] std::vector<SensitivityRow> sensitivity_rows(const WhatIf& what_if, const Case& c,
                                                           const std::vector<Knob>& named, int threads);

}  // namespace mendworth
