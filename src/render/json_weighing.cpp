#include <string>

#include "mendworth/render.hpp"
#include "render/again_words.hpp"
#include "render/json_support.hpp"

// Keys name their units: _years, _days, _minutes, _share (0..1); money, in the currency named at the top unless said
// otherwise, ends in _cost, _price or _amount.
namespace mendworth {

static const char* name_of(OptionKind kind) {
  switch (kind) {
    case OptionKind::repair: return "repair";
    case OptionKind::replacement: return "replacement";
    case OptionKind::leave: return "leave";
    case OptionKind::licensed_repair: return "licensed_repair";
    case OptionKind::claim: return "claim";
  }
  return "";
}

template <>
Shape<WeighSettings>::Shape()
    : MemberTable("settings",
                  "What the answers depend on besides the case. The number of threads never changes an "
                  "answer and is left out.") {
  has({
      {"seed", &R::seed, "of the random numbers"},
      {"futures", &R::futures, "simulated", at_least(1)},
      {"today", &R::today, "day for the guarantee; null: not asked for"},
  });
}

template <>
Shape<Verdict>::Shape() : MemberTable("verdict", "The answer.") {
  has({
      {"kind", &R::kind,
       "repair, replace, leave: what costs least; keep: the device must be kept; price_unknown: no "
       "replacement has a price; refer: not for one's own hands"},
      {"confidence", &R::confidence,
       "clear: the agreeing_share is at least 80 %; leaning: at least 60 %; else a toss-up"},
      {"best", &R::best, "name of the option with the least present cost"},
      {"best_repair", &R::best_repair, "name; null: none"},
      {"best_replacement", &R::best_replacement, "name; null: none"},
      {"saving_amount", &R::saving,
       "best replacement minus best repair, expected present cost; positive favours repair; null where "
       "either is missing"},
      {"saving_error_amount", &R::saving_error, "one standard error of the simulation"},
      {"repair_cheaper_share", &R::repair_cheaper_share, "of the futures"},
      {"saving_p10_amount", &R::saving_p10, "10 % of the futures save less"},
      {"saving_p50_amount", &R::saving_p50, "median saving"},
      {"saving_p90_amount", &R::saving_p90, "90 % of the futures save less"},
      {"lead_amount", &R::lead, "next-best kind of option minus the best"},
      {"lead_error_amount", &R::lead_error, "one standard error of the simulation"},
      {"agreeing_share", &R::agreeing_share,
       "of the futures: the best option costs less than lead_over in them"},
      {"lead_over", &R::lead_over, "name of the next-best option of another kind"},
  });
}

template <>
Shape<SavingBin>::Shape() : MemberTable("saving_bin", "Futures whose saving lies in a range.") {
  has({
      {"low_amount", &R::low, "of the range"},
      {"high_amount", &R::high, "of the range"},
      {"share", &R::share, "of all futures", between(0, 1)},
  });
}

template <>
Shape<CostInTime::Sum>::Shape() : MemberTable("cost_so_far", "What a course has cost by a time.") {
  has({
      {"years", &R::years, "from now", at_least(0)},
      {"expected_cost", &R::expected, "present cost so far"},
      {"p10_cost", &R::p10, "one in ten futures has cost no more"},
      {"p90_cost", &R::p90, "nine in ten futures have cost no more"},
  });
}

template <>
Shape<CostInTime>::Shape()
    : MemberTable("cost_in_time",
                  "Cost of the best repair and of the best replacement through time, devices bought later "
                  "included.") {
  has({
      {"repair", &R::repair, "best repair"},
      {"replacement", &R::replacement, "best replacement, at the same times"},
  });
}

template <>
Shape<CostParts>::Shape()
    : MemberTable("cost_parts",
                  "What a present cost is made of; the parts add up to it. Negative: money that comes in.") {
  has({
      {"parts_cost", &R::parts, "goods of the first order with their tax"},
      {"shipping_cost", &R::shipping, "shipping, fees and duty of the first order with their tax"},
      {"labour_cost", &R::labour, "own time of the first visit, consumables and set-up included"},
      {"risk_cost", &R::risk, "damage, wrong diagnosis, misfit and dead pieces at the first visit"},
      {"later_visits_cost", &R::later_visits, "later failures"},
      {"next_device_cost", &R::next_device, "devices bought later"},
      {"purchase_cost", &R::purchase, "replacement or licensed repair bought now"},
      {"downtime_cost", &R::downtime, "days without the device"},
      {"burden_cost", &R::burden, "living with the fault"},
      {"keepsake_cost", &R::keepsake, "loss of what this very device is worth to its owner"},
      {"leftovers_cost", &R::leftovers, "spares used for other jobs or sold; not positive"},
      {"resale_cost", &R::resale, "scrap and resale"},
      {"benefit_cost", &R::benefit, "what a better device yields; not positive"},
  });
}

template <>
Shape<AgainRule>::Shape()
    : MemberTable("again",
                  "When one kind of later failure is better repaired again than answered by replacing: "
                  "between two times from now.") {
  has({
      {"part", &R::part, "that fails"},
      {"spare_at_hand", &R::spare_at_hand, "else its pieces have to be ordered"},
      {"repairs_before", &R::repairs_before, "after the one now"},
      {"from_years", &R::from_years, "null: never"},
      {"to_years", &R::to_years, "null: without end"},
  });
}

template <>
Shape<OptionResult>::Shape()
    : MemberTable("option", "One course of action, for as long as a device is needed.") {
  has({
      {"kind", &R::kind, "of action"},
      {"name", &R::name, "unique"},
      {"family", &R::family, "kind of course; of a replacement its name"},
      {"with", &R::with, "repair that renews those mates that are worth it: their positions"},
      {"mates_later", &R::mates_later, "a later failure renews the part's remaining originals as well"},
      {"renewed_now", &R::renewed_now, "positions"},
      {"cash_now_cost", &R::cash_now, "to pay now if all goes well, own time not counted"},
      {"own_time_now_minutes", &R::minutes_now, "hands-on time now if all goes well"},
      {"now_cost", &R::cost_now, "cash and time at the labour rate"},
      {"present_cost", &R::present_cost, "expected, discounted, for as long as a device is needed"},
      {"present_error_cost", &R::present_cost_error, "one standard error of the simulation"},
      {"futures", &R::futures,
       "futures that this option was run through: settings.futures, or fewer where it lies far behind "
       "the best; present_error_cost is about these",
       at_least(1)},
      {"per_year_cost", &R::cost_per_year, "equivalent yearly cost"},
      {"paid_within_1_year_cost", [](const R& o) { return o.cash_within[0]; },
       "money paid within 1 year, expected, not discounted"},
      {"paid_within_3_years_cost", [](const R& o) { return o.cash_within[1]; },
       "money paid within 3 years, expected, not discounted"},
      {"paid_within_5_years_cost", [](const R& o) { return o.cash_within[2]; },
       "money paid within 5 years, expected, not discounted"},
      {"made_of", &R::parts},
      {"damage_share", &R::damage_chance, "of futures with any damage at the first visit"},
      {"write_off_share", &R::write_off_chance, "of futures in which the device is lost at the first visit"},
      {"cure_share", &R::cure_chance, "of futures in which it works after the first visit"},
      {"later_visits_expected", &R::later_visits_expected, "visits after the first, not discounted"},
      {"second_device_share", &R::second_device_chance, "another device is bought while one is needed"},
      {"unknown_price_weight", &R::price_weight,
       "where a replacement has no price: present cost = present_cost + this times the price"},
      {"again", &R::again,
       "repair: when a later failure is better repaired again than answered by replacing; empty: not "
       "worked out"},
      {"later_rule",
       [](const R& o) { return o.again.empty() ? std::nullopt : std::optional(again_words(o.again)); },
       "the same as a sentence, times rounded; null: not worked out"},
  });
}

template <>
Shape<CauseAnswer>::Shape() : MemberTable("cause", "What the cause of the fault means for the mates.") {
  has({
      {"kind", &R::cause, "of the fault"},
      {"common_cause_share", &R::common_chance,
       "chance that a spill reached the other originals; 0 for other causes"},
      {"common_cause_years", &R::common_years, "mean time until they then fail together; 0 for other causes"},
  });
}

template <>
Shape<AnotherCause>::Shape()
    : MemberTable("another_cause", "What the answer would be if the failure had nothing to do with wear.") {
  has({
      {"cause", &R::cause, "weighed in place of wear"},
      {"futures", &R::futures, "behind it", at_least(1)},
      {"verdict", &R::verdict},
      {"repair_pays_from_amount", &R::repair_pays_from,
       "where no replacement has a price: what a working one must be worth; null: never, or priced"},
  });
}

template <>
Shape<Interval>::Shape() : MemberTable("interval", "Two values, rising.") {
  has({
      {"low_value", &R::low, "from"},
      {"high_value", &R::high, "to"},
  });
}

template <>
Shape<BreakEven>::Shape() : MemberTable("break_even", "Where the expected saving is zero.") {
  has({
      {"key", &R::key, "case key or common factor"},
      {"label", &R::label, "in words, with the unit of the values"},
      {"current_value", &R::current, "now"},
      {"low_value", &R::low, "searched from"},
      {"high_value", &R::high, "searched to"},
      {"turning_values", &R::values, "rising; empty: none in the range"},
      {"turning_intervals", &R::intervals,
       "where each of the turning_values lies, given the simulation's error; empty: not known"},
      {"saving_at_low_amount", &R::saving_low, "at low_value"},
      {"saving_at_high_amount", &R::saving_high, "at high_value"},
  });
}

template <>
Shape<SensitivityRow>::Shape() : MemberTable("sensitivity", "How the saving moves with one input.") {
  has({
      {"key", &R::key, "case key or common factor"},
      {"label", &R::label, "in words, with the unit of the values"},
      {"low_value", &R::low, "low end"},
      {"base_value", &R::base, "as weighed"},
      {"high_value", &R::high, "high end"},
      {"saving_at_low_amount", &R::saving_low, "at low_value"},
      {"saving_at_low_error_amount", &R::low_error, "one standard error"},
      {"saving_at_high_amount", &R::saving_high, "at high_value"},
      {"saving_at_high_error_amount", &R::high_error, "one standard error"},
      {"swing_amount", &R::swing, "distance between the two"},
      {"turns_verdict", &R::turns, "between repair and replacement, at an end"},
      {"range_stated", &R::uncertain, "by the case or a default; else 20 % less and more"},
      {"from_default", &R::from_default, "not stated in the case"},
  });
}

template <>
Shape<HalfPriceRule>::Shape() : MemberTable("half_price_rule", "What the half-price rule of thumb says.") {
  has({
      {"repair_now_cost", &R::repair_cost_now, "best repair, own time included"},
      {"new_price", &R::new_price, "with tax and shipping"},
      {"ratio_share", &R::ratio, "repair over new", at_least(0)},
      {"says_repair", &R::says_repair, "ratio below one half"},
      {"agrees", &R::agrees, "with this weighing"},
      {"reason", &R::reason, "why, or why not"},
  });
}

template <>
Shape<Payback>::Shape() : MemberTable("payback", "How long the repair must last to have paid.") {
  has({
      {"needed_years", &R::years_needed,
       "cost now over the replacement's yearly cost; null: that cost is not positive"},
      {"ahead_from_years", &R::ahead_from_years,
       "expected cumulative cost stays below the replacement's from then on; null: never"},
  });
}

template <>
Shape<OwnTime>::Shape() : MemberTable("own_time", "What an hour is worth.") {
  has({
      {"rate_per_hour_price", &R::rate, "of the case"},
      {"saving_cash_only_amount", &R::saving_cash_only, "time at no cost"},
      {"saving_with_time_amount", &R::saving_with_time, "at the case's rate"},
      {"turning_rate_per_hour_price", &R::turning_rate, "the answer turns there; null: none within reason"},
  });
}

template <>
Shape<GuaranteeAnswer>::Shape() : MemberTable("guarantee", "Whether a claim comes first.") {
  has({
      {"until", &R::until, "last day"},
      {"live", &R::live, "today"},
      {"claim_worth_amount", &R::claim_worth, "what the best other option costs, less the cost of claiming"},
      {"claim_cost", &R::claim_cost, "waiting and time"},
  });
}

template <>
Shape<WorthSpendingRow>::Shape() : MemberTable("worth_spending", "One price of a working device.") {
  has({
      {"willing_to_pay_amount", &R::willing_to_pay, "for a working one"},
      {"most_worth_spending_now_amount", &R::most_worth_spending_now, "on the repair"},
  });
}

template <>
Shape<Unpriced>::Shape() : MemberTable("unpriced", "No replacement has a price.") {
  has({
      {"repair_pays_from_amount", &R::repair_pays_from, "worth of a working one; null: never"},
      {"rows", &R::rows, "rising"},
  });
}

template <>
Shape<Weighing::DefaultRow>::Shape() : MemberTable("default", "What the case left out.") {
  has({
      {"key", &R::key, "case key"},
      {"value", &R::value, "as used"},
      {"source", &R::source, "where it comes from"},
      {"decided", &R::decided, "it decides something in this weighing"},
  });
}

template <>
Shape<Weighing::InputRow>::Shape() : MemberTable("input", "A number that the answer was worked out from.") {
  has({
      {"key", &R::key, "case key"},
      {"label", &R::label, "in words, with the unit"},
      {"value", &R::value, "as used"},
      {"source", &R::source,
       "\"stated\", \"stated or left out\" where the key left out means the same, or where the default "
       "comes from"},
  });
}

template <>
Shape<Weighing>::Shape() {
  has({
      {"source_name", &R::source_name, "the case file"},
      {"device", &R::device, "name"},
      {"currency", &R::currency,
       "ISO 4217; of every key that ends in _cost, _price or _amount unless it says otherwise"},
      {"minor_digits", &R::minor_digits, "of the currency"},
      {"need_years", &R::need_years, "until the need for a working device ends; null: it goes on"},
      {"years_ahead", &R::years_ahead,
       "how far the survivors are looked at: until the need ends, or else the rest of the device"},
      {"costs_are_relative", &R::costs_are_relative,
       "present costs are counted against buying the best replacement again and again from now on: no "
       "interest, and a need that goes on"},
      {"discount_per_year_share", &R::discount_rate, "real", any_number},
      {"labour_per_hour_price", &R::labour_rate, "own time"},
      {"settings", &R::settings},
      {"verdict", &R::verdict},
      {"saving_bins", &R::saving_bins,
       "of equal width, rising; half a percent of the futures at either end is left out; empty without a "
       "saving"},
      {"cost_in_time", &R::cost_in_time},
      {"options", &R::options, "cheapest first"},
      {"order", &R::order, "null: nothing to order"},
      {"cause", &R::cause},
      {"evidence", &R::evidence, "by part"},
      {"another_cause", &R::another_cause,
       "null: wear explains what has failed, or nothing has failed by wear"},
      {"survivors", &R::survivors, "by position group"},
      {"mate_survival", &R::mate_survival, "one for each part that has survivors"},
      {"break_evens", &R::break_evens, "between repair and replacement"},
      {"sensitivity", &R::sensitivity, "widest swing first"},
      {"sensitivity_futures", &R::sensitivity_futures, "behind what is simulated anew"},
      {"knowing", &R::knowing, "null: no repair and replacement with a price to compare"},
      {"against", &R::grid, "null: not asked for"},
      {"half_price_rule", &R::half_price, "null: no new price or no repair"},
      {"payback", &R::payback, "null: nothing to compare"},
      {"own_time", &R::own_time, "null: nothing to compare"},
      {"guarantee", &R::guarantee, "null: none stated"},
      {"unpriced", &R::unpriced, "null: a replacement has a price"},
      {"already_spent_cost", &R::already_spent, "sunk: shown, never counted"},
      {"cautions", &R::cautions, "by hazard"},
      {"defaults", &R::defaults, "in the order of the case's keys"},
      {"inputs", &R::inputs, "all numbers that bear on the decision"},
      {"notes", &R::notes, "what is missing, limited or worth a check"},
  });
}

constexpr AnswerOf<Weighing> weighing_form{
    {.schema = "mendworth.weighing",
     .version = 2,
     .meaning = "Answers of 'mendworth weigh --format json'. Numbers are not rounded and "
                "always finite; _share is 0..1.",
     .beside = shape<Beside<WholeAnswer>>}};

std::string weighing_json(const Weighing& w) { return weighing_form.json(w).text(); }

std::string compared_json(const Compared<Weighing>& all) { return compared(weighing_form, all); }

const std::string& weighing_schema() { return weighing_form.json_schema(); }

}  // namespace mendworth
