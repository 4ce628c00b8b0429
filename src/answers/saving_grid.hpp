#pragma once

#include "answers/what_if.hpp"
#include "mendworth/knowing.hpp"

namespace mendworth {

/// Throws std::invalid_argument unless they are two different ones of keys_against.
void check_grid_keys(const Case& c, const std::vector<std::string>& keys);

/// The saving over the ranges of two such keys, the first of them across; a number that is certain is turned 20 % either
/// way.
[[nodiscard]] SavingGrid saving_grid(const WhatIf& what_if, const Case& c,
                                     const std::vector<std::string>& keys, int threads);

/// Where the saving is nought between the points of the grid: linear along the sides of each cell; where all four of
/// them are crossed, the mean of the corners tells which are joined.
[[nodiscard]] std::vector<SavingGrid::Piece> zero_line_of(const SavingGrid& grid);

}  // namespace mendworth
