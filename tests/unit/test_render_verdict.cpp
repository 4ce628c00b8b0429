#include <doctest/doctest.h>

#include <limits>
#include <string>
#include <utility>

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
    return contains(unwrapped(page_of(w)), words);
  };
  PartEvidence& button = w.evidence.front();
  button.survivors = 0;
  CHECK(says(
      "button: one failed after 4.5 years of use, of which half were expected to last 9.6. That moves the "
      "median life of such a part from 350000 to 182000 cycles. "));
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
  w.break_evens.push_back({"common.shape", "Weibull shape of the parts", 2, 0.7, 5, {3.21}, 4, -2});
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
  w.verdict.lead_over = w.verdict.best_repair;
  w.verdict.saving = -7.505;
  w.verdict.repair_cheaper_share = 0.336;
  w.verdict.agreeing_share = 0.664;
  CHECK(
      page_of(w).starts_with("Replace it: expected to cost EUR 7.5 less than the best repair over 5 years\n"
                             "(+/- 0.12); cheaper in 66 % of futures: leaning, not clear.\n"));
  CHECK(contains(
      unwrapped(page_of(w)),
      "Of repair and replacement: replacing is cheaper in 66 % of 100000 futures. Saving by repair: below "
      "EUR 3.1 in one future of ten (P10), below EUR 44.0 in half of them (P50), below EUR 71.3 in nine of "
      "ten "
      "(P90); "));
  CHECK(contains(page_of(w), "\n  *  new: Panel recorder B "));
}

TEST_CASE("a verdict for leaving it") {
  Weighing w = weighing();
  w.verdict.kind = VerdictKind::leave;
  w.verdict.best = w.options[2].name;
  w.verdict.lead = 12.345;
  w.verdict.lead_error = 0;
  w.verdict.lead_over = "failed only";
  CHECK(
      page_of(w).starts_with("Leave it as it is: expected to cost EUR 12.35 less than the next best (failed\n"
                             "only) over 5 years; cheaper in 91 % of futures: clear.\n"));
  CHECK(contains(unwrapped(page_of(w)),
                 "Of repair and replacement: repair is cheaper in 91 % of 100000 futures."));
  w.verdict.saving.reset();
  w.verdict.lead_over.reset();
  CHECK(page_of(w).starts_with("Leave it as it is: nothing else is open.\n\n"));
}

TEST_CASE("a device that must be kept has no replacement in its verdict") {
  Weighing w = weighing();
  w.verdict.kind = VerdictKind::keep;
  w.verdict.saving.reset();
  w.verdict.best_replacement.reset();
  w.need_years = 1;
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
  CAPTURE(page);
  CHECK(
      page.starts_with("No replacement has a price. Repair pays if a working one is worth at least\n"
                       "EUR 31.51 to you.\n"
                       "\n"
                       "The verdict\n"
                       "       If a\n"
                       "    working\n"
                       "     one is  spend now\n"
                       "      worth    at most\n"
                       "  --------------------\n"
                       "  EUR 20.00   EUR 0.00\n"
                       "  EUR 60.00  EUR 28.50\n"));
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
  w.verdict.best = *w.verdict.best_replacement;
  w.verdict.lead_over = w.verdict.best_repair;
  w.verdict.confidence = Confidence::toss_up;
  const std::string page = page_of(w);
  CHECK(
      page.starts_with("Not for your own hands (mains inside): take it to a licensed person or a\n"
                       "qualified workshop.\n"
                       "Toss-up: replacing is expected to cost EUR 3.2 less than a licensed repair over\n"
                       "5 years (+/- 0.12); cheaper in 91 % of futures.\n"));
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
      "end the guarantee. Without a claim:\n"
      "Repair it: "));
  w.guarantee->claim_worth = -2;
  CHECK(page_of(w).starts_with(
      "Note that the guarantee runs until 2027-01-02, but claiming is expected to cost\n"
      "EUR 2.00 more than it brings."));
  w.guarantee->live = false;
  CHECK(page_of(w).starts_with("Repair it: "));
  CHECK(contains(page_of(w), "\nThe guarantee ended on 2027-01-02.\n"));
}

TEST_CASE("a toss-up is called one first, and who disagrees with the mean is told in the same sentence") {
  Weighing w = weighing();
  Verdict& v = w.verdict;
  v.confidence = Confidence::toss_up;
  v.saving = 3.18;
  v.saving_error = 1.14;
  v.repair_cheaper_share = v.agreeing_share = 0.55;
  CHECK(unwrapped(page_of(w))
            .starts_with("Toss-up: repairing is expected to cost EUR 3 less than the best replacement over 5 "
                         "years (+/- 1.1); cheaper in 55 % of futures. The verdict"));
  v.repair_cheaper_share = v.agreeing_share = 0.36;
  CHECK(unwrapped(page_of(w))
            .starts_with(
                "Toss-up: repairing is expected to cost EUR 3 less than the best replacement over 5 "
                "years (+/- 1.1), although it is dearer in 64 % of futures. The verdict Of repair and "
                "replacement: repair is cheaper in 36 % of 100000 futures, but saves more in these than it "
                "loses in the others. Saving by repair: below EUR 3 in one future of ten (P10), "
                "below EUR 44 in half of them (P50), below EUR 71 in nine of ten (P90); "));
  v.saving = 0.2;
  CHECK(unwrapped(page_of(w))
            .starts_with("Toss-up: repairing is expected to cost as much as the best replacement over 5 "
                         "years (+/- 1.1), although"));
  v.kind = VerdictKind::replace;
  std::swap(v.best, *v.lead_over);
  v.saving = -14;
  v.repair_cheaper_share = 0.62;
  v.agreeing_share = 0.38;
  CHECK(unwrapped(page_of(w))
            .starts_with("Toss-up: replacing is expected to cost EUR 14 less than the best repair over 5 "
                         "years (+/- 1.1), although it is dearer in 62 % of futures. The verdict"));
  w.half_price->agrees = true;
  CHECK(contains(unwrapped(page_of(w)), "this weighing calls it a toss-up."));
}

TEST_CASE("a confidence about something else than repair against replacement stays with its own amount") {
  Weighing w = weighing();
  Verdict& v = w.verdict;
  v.lead_over = w.options[2].name;
  v.lead = 5.26;
  v.lead_error = 0.3;
  v.confidence = Confidence::leaning;
  v.agreeing_share = 0.7;
  v.repair_cheaper_share = 0.4;
  CHECK(unwrapped(page_of(w))
            .starts_with(
                "Repair it: expected to cost EUR 5.3 less than the next best (leave it) over 5 "
                "years (+/- 0.3); cheaper in 70 % of futures: leaning, not clear. The verdict Of repair and "
                "replacement: repair is cheaper in 40 % of 100000 futures, but saves more in these than it "
                "loses in the others. Saving"));
  v.confidence = Confidence::toss_up;
  v.agreeing_share = 0.45;
  CHECK(unwrapped(page_of(w))
            .starts_with("Toss-up: repairing is expected to cost EUR 5.3 less than the next best (leave it) "
                         "over 5 years (+/- 0.3), although it is dearer in 55 % of futures. The verdict"));
}

TEST_CASE("a failure that wear hardly explains is told, with the answer to another cause") {
  Weighing w = weighing();
  w.evidence.front().early_chance = 0.01;
  CHECK_FALSE(contains(unwrapped(page_of(w)), "hardly explains"));
  CHECK(contains(unwrapped(page_of(w)),
                 "3 still work. The chance of a failure as early as this was 1 %. Together"));
  w.evidence.front().early_chance = 0.004;
  CHECK(contains(
      unwrapped(page_of(w)),
      "Wear hardly explains what has failed: the chance of it as early as this, with the life assumed, is "
      "small (button: 0.4 %). Another cause is likelier - a blow, a bad joint, liquid - or the use or the "
      "class of the part is wrong. Best repair"));
  AnotherCause other;
  other.futures = 4096;
  other.verdict = w.verdict;
  other.verdict.saving = 77.77;
  other.verdict.saving_error = 2;
  w.another_cause = other;
  CHECK(contains(
      unwrapped(page_of(w)),
      "is wrong. With fault.cause = \"bad-joint\" the answer is: Repair it: expected to cost EUR 78 less "
      "than the best replacement over 5 years (+/- 2); cheaper in 91 % of futures: clear."));
  w.another_cause->verdict.kind = VerdictKind::price_unknown;
  w.another_cause->repair_pays_from = 20;
  CHECK(contains(unwrapped(page_of(w)),
                 "the answer is: Repair pays if a working one is worth at least EUR 20.00."));
  w.another_cause->verdict.kind = VerdictKind::keep;
  CHECK_FALSE(contains(unwrapped(page_of(w)), "the answer is:"));
}

TEST_CASE("the rule for later failures stands with the best repair") {
  Weighing w = weighing();
  w.options[0].again = {{.part = "button", .from_years = 0, .to_years = 4.1}};
  CHECK(
      contains(unwrapped(page_of(w)), "Later: repair again if it fails within 4 years, replace after that."));
}

TEST_CASE("what-ifs show where a value lies and no digits beyond") {
  Weighing w = weighing();
  w.break_evens[0].intervals = {{43.0712, 43.3534}};
  w.break_evens[2].intervals = {{30.2, 32.7}, {74, 86}};
  w.own_time->turning_rate = 31.5;
  w.sensitivity[0].low_error = 1.5;
  w.sensitivity[0].high_error = 0.3;
  const std::string page = page_of(w);
  CHECK(contains(page, "43.2 (43.1 to 43.4)"));
  CHECK(contains(page, "80 (74 to"));
  CHECK(contains(unwrapped(page), "an hour is worth EUR 32 (30 to 33)."));
  CHECK(contains(page, "      66     -8.8     75\n"));
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
  w.verdict.lead_error = 0;
  w.options[0].parts.keepsake = 3;
  CHECK(unwrapped(page_of(w))
            .starts_with("It must be kept, and leaving it as it is costs least: EUR 8.38 less than repairing "
                         "it, expected over 5 "
                         "years; cheaper in 91 % of futures: clear. Repairing it costs EUR 33.54 now"));
  CHECK_FALSE(contains(page_of(w), "counted at nothing"));
}
