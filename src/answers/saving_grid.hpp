#pragma once

#include "answers/what_if.hpp"
#include "mendworth/knowing.hpp"

namespace mendworth {

/// The saving over the ranges of two keys of the case, the first of them across; a number that is certain is turned 20 %
/// either way. Throws std::invalid_argument unless `keys` are two different ones of keys_against.
[[nodiscard]] SavingGrid saving_grid(const WhatIf& what_if, const Case& c,
                                     const std::vector<std::string>& keys, int threads);

/// Where the saving is nought between the points of the grid: linear along the sides of each cell; where all four of
/// them are crossed, the mean of the corners tells which are joined.
[[nodiscard]] std::vector<SavingGrid::Piece> zero_line_of(const SavingGrid& grid);

}  // namespace mendworth
