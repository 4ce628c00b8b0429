#include "render/json_support.hpp"

namespace mendworth {

namespace {

/// Of what renewing the position comes to; absent where that is.
template <class M>
std::optional<M> of_renewal(const SurvivorRow& row, M SurvivorRow::Renewal::*member) {
  return row.renewal ? std::optional((*row.renewal).*member) : std::nullopt;
}

}  // namespace

template <>
Shape<PartEvidence>::Shape()
    : MemberTable("evidence", "What this device's own parts tell about their life.") {
  has({
      {"part", &R::part, "kind of part"},
      {"life_unit", &R::unit, "of the lives"},
      {"failures", &R::failures, "by wear"},
      {"survivors", &R::survivors, "still working"},
      {"prior_median_life", &R::prior_median, "before"},
      {"posterior_median_life", &R::posterior_median, "after"},
      {"posterior_low_life", &R::posterior_low, "5 %"},
      {"posterior_high_life", &R::posterior_high, "95 %"},
      {"prior_median_years", &R::prior_median_years, "at the use of the part's busiest position"},
      {"posterior_median_years", &R::posterior_median_years, "at the use of the part's busiest position"},
      {"failed_at_rated_share", &R::failed_at_rated, "how the rated life is read: share failed at it"},
      {"failed_after_years", &R::failed_after_years,
       "years in service of the failure at the least wear; 0 without failures"},
      {"expected_years", &R::expected_years,
       "median life expected at that position's use; 0 without failures"},
      {"early_failure_share", &R::early_chance,
       "chance, before the evidence, that at least as many positions of the part as have failed do so by "
       "their wear so far; null: none has failed by wear"},
      {"wear_hardly_explains", [](const R& e) { return e.wear_hardly_explains(); },
       "early_failure_share is below 1 %"},
      {"prior_failure_within_one_year_share", &R::prior_chance_one_year,
       "of a surviving original, before the evidence; 0 where none survives"},
      {"failure_within_one_year_share", &R::chance_one_year, "the same after the evidence"},
  });
}

template <>
Shape<SurvivorRow>::Shape()
    : MemberTable("survivor", "Originals that still work; chances are for one position.") {
  has({
      {"position", &R::position, "name"},
      {"part", &R::part, "kind of part"},
      {"count", &R::count, "positions", at_least(1)},
      {"use_share", &R::share, "of the busiest position's use"},
      {"prior_failure_share", &R::prior_chance, "within years_ahead, before the evidence"},
      {"failure_share", &R::chance, "within years_ahead, after it"},
      {"failure_within_one_year_share", &R::chance_one_year, "after it"},
      {"renew_now_cost", [](const R& s) { return of_renewal(s, &SurvivorRow::Renewal::now_cost); },
       "in this opening as well; null where the work is not for one's own hands"},
      {"later_opening_cost", [](const R& s) { return of_renewal(s, &SurvivorRow::Renewal::later_cost); },
       "an opening of its own later, undiscounted"},
      {"later_opening_uses_spare",
       [](const R& s) { return of_renewal(s, &SurvivorRow::Renewal::later_uses_spare); },
       "it takes a spare that the order of the best repair leaves; else it places a new order"},
      {"break_even_share", [](const R& s) { return of_renewal(s, &SurvivorRow::Renewal::break_even_chance); },
       "renewing now pays above it"},
  });
}

template <>
Shape<MateSurvival::Point>::Shape()
    : MemberTable("survival_point", "Share still working of such originals as work now.") {
  has({
      {"years", &R::years, "from now", at_least(0)},
      {"before_share", &R::before, "before this device's evidence"},
      {"after_share", &R::after, "after it"},
  });
}

template <>
Shape<MateSurvival>::Shape()
    : MemberTable("mate_survival", "How a part's surviving original of the most use goes on.") {
  has({
      {"part", &R::part, "name"},
      {"position", &R::position, "name of its group"},
      {"points", &R::points, "by time"},
  });
}

}  // namespace mendworth
