#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <string>
#include <vector>

#include "render/answer_words.hpp"
#include "render/number_text.hpp"
#include "render/weighing_charts.hpp"

namespace mendworth {

namespace {

// Where the pieces of a later opening come from.
std::string spares_words(const Weighing& w) {
  bool spare = false;
  bool order = false;
  for (const SurvivorRow& row : w.survivors) {
    if (row.renewal) (row.renewal->later_uses_spare ? spare : order) = true;
  }
  if (!spare) return ", with a new order";
  return order ? ", with a spare where the order above leaves one, else with a new order"
               : ", with a spare that the order above leaves";
}

std::string times_words(double times) {
  // Beyond that the figure says no more.
  if (times > 100) return "more than 100 times as likely";
  if (times < 0.05) return "hardly likely at all";
  if (times > 0.9 && times < 1.1) return "about as likely as before";
  if (times >= 0.45 && times < 0.55) return "half as likely";
  return fmt::format("{} times as likely", times < 0.95  ? fmt::format("{:.2f}", times)
                                           : times < 9.5 ? fmt::format("{:.1f}", times)
                                                         : number_text(std::round(times)));
}

// What the evidence does to a part, as one would say it at the bench.
std::string evidence_words(const PartEvidence& e) {
  std::string words = e.part + ": ";
  if (e.failures > 0) {
    words +=
        fmt::format("{} failed after {} years of use, of which half{} were expected to last {}",
                    e.failures == 1 ? "one" : fmt::format("{}", e.failures), life_text(e.failed_after_years),
                    e.failures == 1 ? "" : " at the least use", life_text(e.expected_years));
    if (e.survivors > 0) words += fmt::format("; {} still work{}", e.survivors, e.survivors == 1 ? "s" : "");
    if (e.early_chance)
      words += fmt::format(". The chance of a failure as early as {} was {}{}",
                           e.failures == 1 ? "this" : "these", percent_text(*e.early_chance),
                           e.wear_hardly_explains() ? ": wear hardly explains it" : "");
  } else {
    words +=
        fmt::format("{} still work{}, none has failed by wear", e.survivors, e.survivors == 1 ? "s" : "");
  }
  if (e.survivors > 0) {
    const double times = e.prior_chance_one_year > 0 ? e.chance_one_year / e.prior_chance_one_year : 1.0;
    words += fmt::format(". Together that makes {} {} to fail within a year: {} before, {} after",
                         e.survivors == 1 ? "this one" : "these, on average,", times_words(times),
                         percent_text(e.prior_chance_one_year), percent_text(e.chance_one_year));
  } else {
    words += fmt::format(". That moves the median life of such a part from {} to {} {}",
                         life_text(e.prior_median), life_text(e.posterior_median), name_of(e.unit));
  }
  const double factor = e.posterior_high / e.posterior_low;
  return words + fmt::format(". Its median life is still known only to a factor of {} (5 % to 95 %).",
                             factor < 10 ? fmt::format("{:.1f}", factor) : number_text(std::round(factor)));
}

std::string cause_words(const CauseAnswer& cause) {
  switch (cause.cause) {
    case Cause::wear: return "The cause is wear, so failures count as evidence about the mates.";
    case Cause::blow:
      return "The cause is a blow: the failure says nothing about the mates. That they still work does.";
    case Cause::bad_joint:
      return "The cause is a bad joint: the failure says nothing about the mates. That they still work does.";
    case Cause::spill:
      return fmt::format(
          "The cause is a spill: whatever their wear, it has reached the other originals with a chance of "
          "{}, and they then fail together, after {} on average.",
          percent_text(cause.common_chance), years_text(cause.common_years));
  }
  return {};
}

// How rated lives were read, and whether the shape, which that reading leans
// on, decides.
std::string reading_words(const Weighing& w) {
  std::vector<std::string> readings;
  for (const PartEvidence& e : w.evidence) {
    std::string reading = fmt::format("{} have failed (B{:g})", percent_text(e.failed_at_rated),
                                      std::round(e.failed_at_rated * 1000) / 10);
    if (std::ranges::find(readings, reading) == readings.end()) readings.push_back(std::move(reading));
  }
  std::string words = fmt::format(
      "A rated life is read as the life at which {}; failed_at_rated in the case reads it otherwise.",
      fmt::join(readings, " or "));
  for (const BreakEven& b : w.break_evens) {
    if (b.key != "common.shape") continue;
    if (b.values.empty()) {
      words += fmt::format(" No Weibull shape from {} to {} turns the verdict.", number_text(b.low),
                           number_text(b.high));
    } else {
      std::vector<std::string> places;
      for (std::size_t i = 0; i < b.values.size(); ++i) places.push_back(turning_value_text(b, i));
      words += fmt::format(" The verdict turns at a Weibull shape of {}.", fmt::join(places, " and "));
    }
  }
  return words;
}

}  // namespace

Section lives_section(const Weighing& w) {
  Section section{"How long these parts live: before and after this device's own evidence"};
  if (w.evidence.empty()) return section;
  Table table;
  table.name = "lives";
  table.columns = {{"part", false},        {"unit", false},   {"failed here"},
                   {"working here"},       {"median before"}, {"median after"},
                   {"5 % to 95 %", false}, {"years before"},  {"years after"}};
  for (const PartEvidence& part : w.evidence) {
    table.add({part.part, name_of(part.unit), fmt::format("{}", part.failures),
               fmt::format("{}", part.survivors), life_text(part.prior_median),
               life_text(part.posterior_median),
               fmt::format("{} to {}", life_text(part.posterior_low), life_text(part.posterior_high)),
               life_text(part.prior_median_years), life_text(part.posterior_median_years)});
  }
  section.add(std::move(table));
  for (const PartEvidence& part : w.evidence) section.say(evidence_words(part));
  section.say(cause_words(w.cause));
  section.say("Years are at the use of the part's busiest position. " + reading_words(w));
  return section;
}

Section mates_section(const Weighing& w) {
  Section section{
      fmt::format("The originals that still work: chance to fail within {}", years_text(w.years_ahead))};
  if (w.survivors.empty()) return section;
  const bool own_hands =
      std::ranges::any_of(w.survivors, [](const SurvivorRow& row) { return row.renewal.has_value(); });
  Table table;
  table.name = "mates";
  table.columns = {{"position", false}, {"count"},    {"use"},
                   {"before evidence"}, {"after it"}, {"within 1 year"}};
  if (own_hands) table.columns.insert(table.columns.end(), {{"renew now"}, {"open later"}, {"worth from"}});
  const Sums sums(w.currency, w.minor_digits);
  for (const SurvivorRow& row : w.survivors) {
    std::vector<std::string> cells = {row.position,
                                      fmt::format("{}", row.count),
                                      number_text(row.share),
                                      percent_text(row.prior_chance),
                                      percent_text(row.chance),
                                      percent_text(row.chance_one_year)};
    if (row.renewal) {
      cells.insert(cells.end(), {sums.cell(row.renewal->now_cost), sums.cell(row.renewal->later_cost),
                                 percent_text(row.renewal->break_even_chance)});
    } else if (own_hands) {
      cells.resize(cells.size() + 3, "-");
    }
    const bool worth_it = row.renewal && row.chance > row.renewal->break_even_chance;
    table.add(cells, worth_it ? Table::Role::best : Table::Role::plain, worth_it ? "*" : "");
  }
  const bool any_worth_it = table.has_marks();
  section.add(std::move(table));
  if (!own_hands) {
    section.say("Chances are for one position.");
    return section;
  }
  section.say(fmt::format(
      "Chances are for one position, costs in {}. Renewing it now, while the device is open, pays where its "
      "chance is above \"worth from\"{}: the cost now over the cost of an opening of its own later{}.",
      w.currency, any_worth_it ? " (*)" : "", spares_words(w)));
  for (const MateSurvival& mates : w.mate_survival) section.add(survival_chart(mates));
  return section;
}

}  // namespace mendworth
