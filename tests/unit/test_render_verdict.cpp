#include <doctest/doctest.h>

#include <limits>
#include <string>

#include "mendworth/render.hpp"
#include "support/page_text.hpp"
#include "support/sample_weighing.hpp"

// Expected pages are derived from the sample's figures by hand: rounding half away from zero, widths counted.
using namespace mendworth;
using namespace mendworth::testing;

TEST_CASE("the evidence in words") {
  Weighing w = weighing();
  const auto says = [&](const char* words) {
    // Lines are broken anywhere.
    std::string page = page_of(w);
    for (std::size_t at = page.find("\n  "); at != std::string::npos; at = page.find("\n  ", at))
      page.replace(at, 3, " ");
    return contains(page, words);
  };
  PartEvidence& button = w.evidence.front();
  button.survivors = 0;
  CHECK(says(
      "button: one failed after 4.5 years of use, of which half were expected to last 9.6. That moves the "
      "median life of such a part from 350,000 to 182,000 cycles. "));
  button.failures = 2;
  button.survivors = 1;
  button.chance_one_year = 0.0155;
  CHECK(says(
      "button: 2 failed after 4.5 years of use, of which half at the least use were expected to last 9.6; 1 "
      "still works. "
      "Together that makes this one half as likely to fail within a year: 3.1 % before, 1.6 % after. "));
  button.failures = 0;
  button.chance_one_year = 0.031;
  CHECK(
      says("button: 1 still works, none has failed by wear. Together that makes this one about as likely as "
           "before "
           "to fail"));
  button.posterior_high = 120000 * 37.2;
  CHECK(says("known only to a factor of 37 (5 % to 95 %)"));

  button.failed_at_rated = 0.5;
  CHECK(says("read as the life at which 50 % have failed (B50)"));
  w.break_evens.push_back({"common.shape", "Weibull shape of the parts", 2, 0.7, 5, {3.21}, 4, -2, true});
  CHECK(says("The verdict turns at a Weibull shape of 3.21."));
  w.break_evens.back().values.clear();
  CHECK(says("No Weibull shape from 0.7 to 5 turns the verdict."));

  w.cause.cause = Cause::blow;
  CHECK(says("The cause is a blow: the failure says nothing about the mates."));
  w.cause.cause = Cause::bad_joint;
  CHECK(says("The cause is a bad joint: the failure says nothing about the mates."));
  w.cause = {.cause = Cause::spill, .common_chance = 0.3, .common_years = 1.5};
  CHECK(says(
      "whatever their wear, it has reached the other originals with a chance of 30 %, and they then fail "
      "together, after 1.5 years on average."));
}

TEST_CASE("a verdict for replacement") {
  Weighing w = weighing();
  w.verdict.kind = VerdictKind::replace;
  w.verdict.confidence = Confidence::leaning;
  w.verdict.best = *w.verdict.best_replacement;
  w.verdict.saving = -7.505;
  w.verdict.repair_cheaper_share = 0.336;
  CHECK(page_of(w).starts_with(
      "Replace it: expected to cost EUR 7.51 less than the best repair over 5 years\n"
      "(+/- 0.12 simulation error).\n"
      "Replacing is cheaper in 66 % of 100,000 futures: leaning, not clear. Saving by\n"
      "repair: P10 EUR 3.10, P50 EUR 44.00, P90 EUR 71.26.\n"));
  CHECK(contains(page_of(w), "\n  *  new: Panel recorder B "));
}

TEST_CASE("a verdict for leaving it") {
  Weighing w = weighing();
  w.verdict.kind = VerdictKind::leave;
  w.verdict.lead = 12.345;
  w.verdict.lead_over = "failed only";
  CHECK(page_of(w).starts_with(
      "Leave it as it is: expected to cost EUR 12.35 less than the next best (failed\n"
      "only) over 5 years; that is clear.\n"
      "Of the two, repair is cheaper in 91 % of 100,000 futures. Saving by repair: P10\n"));
  w.verdict.saving.reset();
  w.verdict.lead_over.reset();
  CHECK(page_of(w).starts_with("Leave it as it is: nothing else is open.\n\n"));
}

TEST_CASE("a device that must be kept has no replacement in its verdict") {
  Weighing w = weighing();
  w.verdict.kind = VerdictKind::keep;
  w.verdict.saving.reset();
  w.verdict.best_replacement.reset();
  w.horizon_years = 1;
  CHECK(
      page_of(w).starts_with("It must be kept: repairing it costs EUR 33.54 now and works with a chance of\n"
                             "93 %; the device is lost with a chance of 4.4 %.\n"
                             "Expected cost of repairing over 1 year: EUR 58.38. Losing it is counted at\n"
                             "nothing: give device.keepsake to count it.\n"));
  CHECK_FALSE(contains(page_of(w), "Best replacement"));
  w.verdict.best_repair.reset();
  CHECK(page_of(w).starts_with("It must be kept, but no repair of it is possible"));
}

TEST_CASE("without a price the answer is the most worth spending") {
  Weighing w = weighing();
  w.verdict.kind = VerdictKind::price_unknown;
  w.verdict.saving.reset();
  w.options[1].price_weight = 1.04;
  w.unpriced = Unpriced{31.505, {{20, 0}, {60, 28.499}}};
  const std::string page = page_of(w);
  CHECK(
      page.starts_with("No replacement has a price. Repair pays if a working one is worth at least\n"
                       "EUR 31.51 to you.\n"
                       "\n"
                       "  If a working one  spend now\n"
                       "          is worth    at most\n"
                       "  ---------------------------\n"
                       "         EUR 20.00   EUR 0.00\n"
                       "         EUR 60.00  EUR 28.50\n"));
  CHECK(contains(page, "99.50 + 1.04p"));
  CHECK(contains(page, "p: the price of"));
  w.unpriced->repair_pays_from.reset();
  CHECK(page_of(w).starts_with(
      "No replacement has a price, and at no price that makes sense does repair pay.\n"));
}

TEST_CASE("what belongs to licensed people is referred, never advised") {
  Weighing w = weighing();
  w.verdict.kind = VerdictKind::refer;
  w.cautions[0].licensed_only = true;
  w.verdict.saving = -3.2;
  const std::string page = page_of(w);
  CHECK(
      page.starts_with("Not for your own hands (mains inside): take it to a licensed person or a\n"
                       "qualified workshop.\n"
                       "A licensed repair is expected to cost EUR 3.20 more than the best replacement\n"
                       "over 5 years (+/- 0.12 simulation error).\n"
                       "Replacing is cheaper in "));
  CHECK_FALSE(contains(page, "Repair it"));
  CHECK_FALSE(contains(page, "Risk of the best repair"));
  CHECK_FALSE(contains(page, "wn time at"));
  CHECK_FALSE(contains(page, "Own time."));
  w.verdict.saving.reset();
  CHECK(contains(page_of(w), "Ask for the price of a licensed repair"));
}

TEST_CASE("a live guarantee comes before everything") {
  Weighing w = weighing();
  w.guarantee = GuaranteeAnswer{Date{2027, 1, 2}, true, 55.5, 4};
  CHECK(page_of(w).starts_with(
      "Claim first: the guarantee runs until 2027-01-02; a claim is expected to be\n"
      "worth EUR 55.50 and to cost EUR 4.00 in waiting and time. Opening the device may\n"
      "end the guarantee.\n"
      "Without a claim:\n"
      "Repair it: "));
  w.guarantee->claim_worth = -2;
  CHECK(page_of(w).starts_with(
      "Note that the guarantee runs until 2027-01-02, but claiming is expected to cost\n"
      "EUR 2.00 more than it brings."));
  w.guarantee->live = false;
  CHECK(page_of(w).starts_with("Repair it: "));
  CHECK(contains(page_of(w), "\nThe guarantee ended on 2027-01-02.\n"));
}

TEST_CASE("a mean against the majority is explained, in both directions") {
  Weighing w = weighing();
  const std::string explanation = "It saves less often than not,";
  CHECK_FALSE(contains(unwrapped(page_of(w)), explanation));
  w.verdict.repair_cheaper_share = 0.38;
  CHECK(contains(unwrapped(page_of(w)),
                 "Repair is cheaper in 38 % of 100,000 futures: clear. It saves less often than not,"));
  w.verdict.kind = VerdictKind::replace;
  w.verdict.saving = -1;
  CHECK_FALSE(contains(unwrapped(page_of(w)), explanation));
  w.verdict.repair_cheaper_share = 0.62;
  CHECK(contains(unwrapped(page_of(w)), "Replacing is cheaper in 38 %"));
  CHECK(contains(unwrapped(page_of(w)), explanation));
}

TEST_CASE("unused life at the horizon is told where it moves the saving") {
  Weighing w = weighing();
  w.verdict.saving_unused_life_counted = 41.2;  // within the error of 0.12
  CHECK_FALSE(contains(unwrapped(page_of(w)), "Not counted is"));
  w.verdict.saving_unused_life_counted = 30;
  CHECK(contains(unwrapped(page_of(w)), "the saving by repair would be EUR 30.00. "));
  w.verdict.saving_unused_life_counted = -2;
  w.verdict.unused_life_turns = true;
  CHECK(contains(unwrapped(page_of(w)), "would be EUR -2.00, and the verdict would turn: give"));
  CHECK(widest_line(page_of(w)) <= 80);
}

TEST_CASE("unused life at the horizon: each verdict says what it would do") {
  Weighing w = weighing();
  w.verdict.saving_unused_life_counted = -2;
  // Leaving it still costs least, whichever of the other two is the cheaper one.
  w.verdict.kind = VerdictKind::leave;
  CHECK(contains(unwrapped(page_of(w)), "would be EUR -2.00; to leave it would still cost least."));
  w.verdict.unused_life_turns = true;
  CHECK(contains(unwrapped(page_of(w)), "would be EUR -2.00, and the verdict would turn: give"));
  // Both of them gain as much, so that the saving stays: the verdict may turn nevertheless.
  w.verdict.saving_unused_life_counted = w.verdict.saving;
  CHECK(contains(unwrapped(page_of(w)), "would be EUR 41.13, and the verdict would turn: give"));
  w.verdict.kind = VerdictKind::replace;
  w.verdict.saving_unused_life_counted = -2;
  w.verdict.saving = -20;
  w.verdict.unused_life_turns = false;
  CHECK(contains(unwrapped(page_of(w)), "the saving by repair would be EUR -2.00. "));
  // A referral compares the two only.
  w.verdict.kind = VerdictKind::refer;
  w.verdict.saving_unused_life_counted = 2;
  CHECK(contains(unwrapped(page_of(w)), "would be EUR 2.00, and the comparison would turn: give"));
}

TEST_CASE("the survivors' table says where the piece of a later opening comes from") {
  Weighing w = weighing();
  w.survivors.front().renewal->later_uses_spare = true;
  CHECK(contains(unwrapped(page_of(w)), "of its own later, with a spare that the order above leaves."));
  w.survivors.push_back(w.survivors.front());
  w.survivors.back().renewal->later_uses_spare = false;
  CHECK(contains(unwrapped(page_of(w)), "with a spare where the order above"));
}

TEST_CASE("a kept device says where leaving it costs least") {
  Weighing w = weighing();
  w.verdict.kind = VerdictKind::keep;
  w.verdict.best = w.options[2].name;
  w.options[2].present_cost = 50;
  w.options[0].parts.keepsake = 3;
  CHECK(
      page_of(w).starts_with("It must be kept, and leaving it as it is costs least: EUR 8.38 less than\n"
                             "repairing it, expected over 5 years; that is clear.\n"
                             "Repairing it costs EUR 33.54 now"));
  CHECK_FALSE(contains(page_of(w), "counted at nothing"));
}
