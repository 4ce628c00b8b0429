#include <string>

#include "mendworth/render.hpp"
#include "render/json_support.hpp"

// Keys that end in _cost are in the currency at the top, in _price in the supplier's.
namespace mendworth {

template <>
Shape<SharedOrderSettings>::Shape() : MemberTable("settings") {
  has({
      {"seed", &R::seed},
      {"futures", &R::futures, "of each case; 0: as many as it takes"},
      {"most_orders", &R::most_orders, "sets of repairs that are priced at the most"},
  });
}

template <>
Shape<SharedJob::Alone>::Shape() : MemberTable("alone") {
  has({
      {"landed_cost", &R::landed, "of the best basket"},
      {"net_cost", &R::net, "with waiting and misfit, less what leftovers are worth"},
      {"pays", &R::pays, "the repair is worth it then, or must be"},
  });
}

template <>
Shape<SharedJob>::Shape() : MemberTable("job") {
  has({
      {"source_name", &R::source_name, "the case's file"},
      {"device", &R::device},
      {"repair", &R::repair, "the best repair; empty: none"},
      {"instead", &R::instead, "the best other course; empty: none"},
      {"repaired", &R::repaired, "with this order"},
      {"stripped", &R::stripped, "good pieces are taken out of it for others"},
      {"must_be_repaired", &R::must_be, "there is no other course, or none with a price"},
      {"value_cost", &R::value,
       "what the repair costs less than the best other course if its pieces cost nothing; 0 where it must be "
       "or cannot be repaired"},
      {"value_error_cost", &R::value_error, "standard error of it"},
      {"alone", &R::alone, "ordered for itself; null: cannot be"},
      {"share_cost", [](const R& job, const SumStyle& sums) { return in_units(job.share, sums.currency); },
       "of the order at the doorstep, whole minor units; the shares add up to it as rounded"},
      {"taken_cost", &R::taken_cost, "of pieces that are not ordered; see taken"},
      {"wait_days", &R::wait_days, "until the last of its pieces is there"},
      {"wait_cost", &R::wait_cost},
      {"misfit_cost", &R::misfit_cost, "expected"},
      {"leftover_worth_cost", &R::leftover_worth, "its share"},
      {"adds_cost", &R::adds,
       "what the order would cost less, net, without this job; null: not repaired, or the others could not "
       "be ordered then"},
  });
}

template <>
Shape<SharedLine::For>::Shape() : MemberTable("for") {
  has({
      {"job", &R::job, "index into jobs"},
      {"pieces", &R::pieces, "of this part that it needs"},
  });
}

template <>
Shape<SharedLine>::Shape() : MemberTable("shared_line") {
  has({
      {&R::line},
      {"for", &R::jobs},
  });
}

template <>
Shape<SharedTaken>::Shape() : MemberTable("taken") {
  has({
      {"part", &R::part},
      {"candidate", &R::candidate},
      {"from_job", &R::from, "index into jobs of the device they are taken out of; null: the drawer"},
      {"pieces", &R::pieces, "", at_least(1)},
      {"taken_cost", &R::cost,
       "of the drawer: what they would save elsewhere; of a device: the labour, what being replaced costs it "
       "beyond its best other course, and what their age is expected to cost"},
      {"for", &R::jobs},
  });
}

template <>
Shape<SharedOrder>::Shape() {
  has({
      {"currency", &R::currency, "ISO 4217"},
      {"minor_digits", &R::minor_digits},
      {"settings", &R::settings},
      {"jobs", &R::jobs, "as the cases were given"},
      {"lines", &R::lines, "none: nothing is ordered"},
      {"taken", &R::taken, "pieces that need not be ordered"},
      {"goods_cost", [](const R& a) { return a.order.goods; }},
      {"shipping_cost", [](const R& a) { return a.order.shipping; }},
      {"fees_cost", [](const R& a) { return a.order.fees; }},
      {"duty_cost", [](const R& a) { return a.order.duty; }},
      {"tax_cost", [](const R& a) { return a.order.tax; }},
      {"exchange_fee_cost", [](const R& a) { return a.order.exchange_fee; }},
      {"landed_cost", [](const R& a) { return a.order.landed; },
       "of the whole order; the sum of the six above"},
      {"taken_cost", &R::taken_cost, "of all pieces taken"},
      {"wait_cost", &R::wait_cost, "of all jobs"},
      {"misfit_cost", &R::misfit_cost},
      {"leftover_worth_cost", [](const R& a) { return a.order.leftover_value; }},
      {"net_cost", &R::net, "landed + taken + waiting + misfit - worth of leftovers"},
      {"together_saves_cost", &R::together_saves,
       "what all jobs together cost less than if each were decided and ordered for itself; negative: more; "
       "null: a job that must be repaired cannot be ordered for itself"},
      {"proved", &R::proved, "no other choice of repairs and no other basket costs less"},
      {"gap_cost", &R::gap, "none costs less by more than this"},
      {"warnings", [](const R& a) { return a.order.warnings; }},
      {"cautions", &R::cautions, "of the device's hazards"},
      {"notes", &R::notes},
  });
}

constexpr AnswerOf<SharedOrder> shared_order_form{
    {.schema = "mendworth.shared-order",
     .version = 1,
     .meaning = "Answers of 'mendworth buy' on several cases with --format json. "
                "Numbers are not rounded and always finite.",
     .closed = true}};

std::string shared_order_json(const SharedOrder& answer) {
  return shared_order_form.json(answer, {{answer.currency, answer.minor_digits}, {}}).text();
}

const std::string& shared_order_schema() { return shared_order_form.json_schema(); }

}  // namespace mendworth
