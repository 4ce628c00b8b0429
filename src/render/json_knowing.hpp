#pragma once

#include "mendworth/knowing.hpp"
#include "render/json_value.hpp"

namespace mendworth {

[[nodiscard]] Json knowing_json(const Knowing& knowing);
[[nodiscard]] Json saving_grid_json(const SavingGrid& grid);

}  // namespace mendworth
