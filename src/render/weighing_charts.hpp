#pragma once

#include <array>

#include "mendworth/weigh.hpp"
#include "render/chart.hpp"

namespace mendworth {

/// What an option's present cost is made of, in the words for it.
struct CostRow {
  const char* label;
  double CostParts::*part;
};
inline constexpr std::array<CostRow, 13> cost_rows{{
    {"parts, with tax", &CostParts::parts},
    {"shipping, fees and duty of the order", &CostParts::shipping},
    {"own time and what an opening uses up", &CostParts::labour},
    {"risk at the first visit", &CostParts::risk},
    {"later visits", &CostParts::later_visits},
    {"purchase now", &CostParts::purchase},
    {"devices bought later", &CostParts::next_device},
    {"days without the device", &CostParts::downtime},
    {"living with the fault", &CostParts::burden},
    {"losing this very device", &CostParts::keepsake},
    {"less: spares used for other jobs or sold", &CostParts::leftovers},
    {"less: resale and scrap", &CostParts::resale},
    {"less: benefit of a better device", &CostParts::benefit},
}};

/// Pictures of a weighing. One that has nothing to show is empty.
/// The cheapest courses and those that the verdict names, each a bar of what its money goes to.
[[nodiscard]] Chart costs_chart(const Weighing& w);
/// What repairing and replacing have cost by a time, with the moment from which the repair has paid.
[[nodiscard]] Chart cost_in_time_chart(const Weighing& w);
/// How the saving is spread over the futures, on either side of nought.
[[nodiscard]] Chart saving_chart(const Weighing& w);
/// Whether the swing of a row is below 5 % of the largest.
[[nodiscard]] bool hardly_matters(const Weighing& w, const SensitivityRow& row);
/// The saving at both ends of what each number may be.
[[nodiscard]] Chart swings_chart(const Weighing& w);
/// What it is worth to know each uncertain number before anything is ordered; those that are worth something.
[[nodiscard]] Chart knowing_chart(const Weighing& w);
/// The saving over two numbers.
[[nodiscard]] Chart grid_chart(const Weighing& w);
/// How the surviving originals of a part go on.
[[nodiscard]] Chart survival_chart(const MateSurvival& mates);

}  // namespace mendworth
