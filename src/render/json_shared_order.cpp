#include <string>

#include "mendworth/render.hpp"
#include "render/json_support.hpp"

// Keys that end in _cost are in the currency at the top, in _price in the supplier's. The schema beside this file says
// what each means.
namespace mendworth {
namespace {

Json alone_of_job_json(const SharedJob::Alone& alone) {
  return {{"landed_cost", number(alone.landed)}, {"net_cost", number(alone.net)}, {"pays", alone.pays}};
}

Json for_json(const SharedLine::For& wanted) { return {{"job", wanted.job}, {"pieces", wanted.pieces}}; }

Json taken_json(const SharedTaken& taken) {
  return {{"part", taken.part},
          {"candidate", taken.candidate},
          {"from_job", taken.from ? Json(*taken.from) : Json(nullptr)},
          {"pieces", taken.pieces},
          {"taken_cost", number(taken.cost)},
          {"for", list(taken.jobs, for_json)}};
}

Json shared_line_json(const SharedLine& entry) {
  Json line = bought_line_json(entry.line);
  line.add("for", list(entry.jobs, for_json));
  return line;
}

Json job_json(const SharedJob& job, const Currency& currency) {
  return {{"source_name", job.source_name},
          {"device", job.device},
          {"repair", job.repair},
          {"instead", job.instead},
          {"repaired", job.repaired},
          {"stripped", job.stripped},
          {"must_be_repaired", job.must_be},
          {"value_cost", number(job.value)},
          {"value_error_cost", number(job.value_error)},
          {"alone", maybe(job.alone, alone_of_job_json)},
          {"share_cost", number(in_units(job.share, currency))},
          {"taken_cost", number(job.taken_cost)},
          {"wait_days", number(job.wait_days)},
          {"wait_cost", number(job.wait_cost)},
          {"misfit_cost", number(job.misfit_cost)},
          {"leftover_worth_cost", number(job.leftover_worth)},
          {"adds_cost", number(job.adds)}};
}

}  // namespace

std::string shared_order_json(const SharedOrder& a) {
  Json jobs = Json::array();
  for (const SharedJob& job : a.jobs) jobs.push_back(job_json(job, {a.currency, a.minor_digits}));
  Json out = {
      {"schema", "mendworth.shared-order"},
      {"version", 1},
      {"program_version", version()},
      {"currency", a.currency},
      {"minor_digits", a.minor_digits},
      {"settings",
       {{"seed", a.settings.seed}, {"futures", a.settings.futures}, {"most_orders", a.settings.most_orders}}},
      {"jobs", jobs},
      {"lines", list(a.lines, shared_line_json)},
      {"taken", list(a.taken, taken_json)},
      {"goods_cost", number(a.order.goods)},
      {"shipping_cost", number(a.order.shipping)},
      {"fees_cost", number(a.order.fees)},
      {"duty_cost", number(a.order.duty)},
      {"tax_cost", number(a.order.tax)},
      {"exchange_fee_cost", number(a.order.exchange_fee)},
      {"landed_cost", number(a.order.landed)},
      {"taken_cost", number(a.taken_cost)},
      {"wait_cost", number(a.wait_cost)},
      {"misfit_cost", number(a.misfit_cost)},
      {"leftover_worth_cost", number(a.order.leftover_value)},
      {"net_cost", number(a.net)},
      {"together_saves_cost", number(a.together_saves)},
      {"proved", a.proved},
      {"gap_cost", number(a.gap)},
      {"warnings", a.order.warnings},
      {"cautions", list(a.cautions, caution_json)},
      {"notes", a.notes},
  };
  return out.text();
}

}  // namespace mendworth
