#include <fmt/format.h>

#include <string>

#include "render/number_text.hpp"
#include "render/weighing_sections.hpp"

namespace mendworth {

void evidence_section(Page& page, const Weighing& w) {
  if (w.evidence.empty()) return;
  page.heading("How long these parts live: before and after this device's own evidence");
  Table table({{"part", Table::Align::left, true},
               {"unit", Table::Align::left},
               {"failed\nhere"},
               {"working\nhere"},
               {"median\nbefore"},
               {"median\nafter"},
               {"5 % to 95 %", Table::Align::right},
               {"years\nbefore"},
               {"years\nafter"}});
  for (const PartEvidence& part : w.evidence) {
    table.add_row({part.part, name_of(part.unit), fmt::format("{}", part.failures),
                   fmt::format("{}", part.survivors), number_text(part.prior_median),
                   number_text(part.posterior_median),
                   fmt::format("{}..{}", number_text(part.posterior_low), number_text(part.posterior_high)),
                   number_text(part.prior_median_years), number_text(part.posterior_median_years)});
  }
  page.table(table);
  page.paragraph(
      "Years are at the use of the busiest position. Failures count as evidence only if the cause is wear.",
      false, 2);
}

void survivors_section(Page& page, const Weighing& w) {
  if (w.survivors.empty()) return;
  page.heading(
      fmt::format("The originals that still work: chance to fail within {}", years_text(w.horizon_years)));
  Table table({{"position", Table::Align::left, true},
               {"count"},
               {"use"},
               {"before\nevidence"},
               {"after\nit"},
               {"within\n1 year"},
               {"renew\nnow"},
               {"open\nlater"},
               {"worth\nfrom"}});
  for (const SurvivorRow& row : w.survivors) {
    table.add_row(
        {row.position, fmt::format("{}", row.count), number_text(row.share), percent_text(row.prior_chance),
         percent_text(row.chance), percent_text(row.chance_one_year), cell(w, row.renew_now_cost),
         cell(w, row.later_cost), percent_text(row.break_even_chance)},
        row.chance > row.break_even_chance);
  }
  page.table(table);
  page.paragraph(
      fmt::format("Chances are for one position, costs in {}. Renewing it now, while the device is open, "
                  "pays where its chance is above \"worth from\": the cost now over the cost of an "
                  "opening of its own later.",
                  w.currency),
      false, 2);
}

}  // namespace mendworth
