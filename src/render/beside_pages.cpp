#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "render/beside.hpp"
#include "render/bulk_buying.hpp"
#include "render/number_text.hpp"

// What stands beside each kind of answer.
namespace mendworth {

namespace {

constexpr const char* none = "-";
const Table::Column to_order_column{.heading = "to order", .number = false, .spare = true};

std::string verdict_words(const Verdict& v) {
  std::string text;
  switch (v.kind) {
    case VerdictKind::repair: text = "repair"; break;
    case VerdictKind::replace: text = "replace"; break;
    case VerdictKind::leave: text = "leave it"; break;
    case VerdictKind::keep: return "keep";
    case VerdictKind::price_unknown: return "price unknown";
    case VerdictKind::refer: return "refer";
  }
  if (!v.lead_over || v.confidence == Confidence::clear) return text;
  return text + (v.confidence == Confidence::leaning ? ", leaning" : ", a toss-up");
}

// What the best course buys now.
std::string to_order(const Weighing& w, const OptionResult* best) {
  if (best == nullptr || best->kind == OptionKind::leave) return "nothing";
  if (best->kind == OptionKind::replacement) return best->family;
  if (best->kind == OptionKind::licensed_repair) return "a licensed repair";
  return w.order ? ordered_words(w.order->lines) : "nothing";
}

std::vector<std::string> weighing_cells(const Weighing& w) {
  const Sums sums(w.currency, w.minor_digits);
  const OptionResult* best = find_option(w, w.verdict.best);
  const Verdict& v = w.verdict;
  return {verdict_words(v), v.saving ? sums.cell(*v.saving, 0, v.saving_error) : none,
          v.saving ? error_text(v.saving_error, w.minor_digits) : none,
          best != nullptr ? sums.cell(best->cash_now) : none, to_order(w, best)};
}

std::vector<std::string> buying_cells(const Buying& b) {
  if (b.baskets.empty()) return {none, none, none, none, none};
  const Sums sums(b.currency, b.minor_digits);
  const BasketAnswer& best = b.baskets.front();
  return {b.repair_is_best ? "repair" : b.best_course, sums.cell(best.landed), days_text(best.wait_days),
          sums.cell(best.net), ordered_words(best.lines)};
}

// How the parts are to be bought.
std::string bought(const BulkScenario& scenario) {
  std::vector<std::string> words;
  for (const BulkChoice& choice : scenario.choices) {
    const BulkLadder& ladder = scenario.ladders[choice.ladder];
    const int pieces = choice.again ? ladder.repeated->quantity : ladder.best.quantity;
    const auto& lines = choice.again ? ladder.repeated->lines : ladder.best.lines;
    std::string text = fmt::format("{} x {}", pieces, ladder.candidate);
    for (const BulkLine& line : lines) text += (&line == &lines.front() ? " from " : ", ") + line.supplier;
    words.push_back(choice.again ? text + ", again and again" : text);
  }
  return words.empty() ? "nothing" : fmt::format("{}", fmt::join(words, "; "));
}

std::string policy_words(const BulkScenario& scenario) {
  if (!scenario.policies) return none;
  for (const PolicyCost& cost : scenario.policies->policies) {
    if (cost.cheapest) return name_of(cost.policy);
  }
  return none;
}

std::string unit_words(const SwapOut& s) {
  return s.units == s.units_at_first ? fmt::format("{}", s.units)
                                     : fmt::format("{}, then {}", s.units_at_first, s.units);
}

std::vector<std::string> bulk_cells(const BulkAnswer& a, const BulkScenario& scenario) {
  const Sums sums = sums_in(a);
  double wanted = 0, low = 0, high = 0, cost = 0, write_off = 0, left = 0, suffices = 1;
  for (const PartDemand& d : scenario.demand) {
    wanted += d.mean;
    low += d.low;
    high += d.high;
  }
  for (const BulkChoice& choice : scenario.choices) {
    const BulkLadder& ladder = scenario.ladders[choice.ladder];
    cost += choice.cost;
    suffices = std::min(suffices, choice.again ? ladder.repeated->reorder_cover : ladder.best.suffices);
    if (choice.again) continue;
    write_off += ladder.best.write_off;
    left += ladder.best.left_pieces;
  }
  return {fmt::format("{} ({:.0f}..{:.0f})", counted(wanted), low, high),
          bought(scenario),
          sums.cell(cost, cost),
          percent_text(1 - suffices),
          counted(left),
          sums.cell(write_off, cost),
          policy_words(scenario),
          unit_words(scenario.swap_out)};
}

}  // namespace

Section beside_bulk(const Compared<BulkAnswer>& all, bool starred) {
  const BulkAnswer& a = all.answer;
  std::vector<BesideLine> lines;
  const auto add = [&](const std::string& name, const BulkAnswer& answer,
                       const std::vector<Change>& changes) {
    for (std::size_t i = 0; i < answer.scenarios.size(); ++i) {
      const BulkScenario& scenario = answer.scenarios[i];
      lines.push_back({all.beside.empty()            ? scenario.name
                       : answer.scenarios.size() > 1 ? name + ", " + scenario.name
                                                     : name,
                       bulk_cells(answer, scenario), i == 0 ? changes : std::vector<Change>{},
                       std::min(i, a.scenarios.size() - 1)});
    }
  };
  add(name_of_first(all), a, {});
  for (const auto& other : all.beside) add(other.name, other.answer, other.changes);
  return beside_section({{"pieces wanted"},
                         {"buy", false},
                         {"expected cost " + a.currency},
                         {"runs out"},
                         {.heading = "left", .spare = true},
                         {.heading = "write-off", .spare = true},
                         {.heading = "policy", .number = false, .spare = true},
                         {.heading = "units", .spare = true}},
                        lines, starred);
}

Section beside_weighing(const Compared<Weighing>& all, bool starred) {
  return beside_section(
      {{"verdict", false}, {"saving " + all.answer.currency}, {"+/-"}, {"money now"}, to_order_column},
      beside_lines(all, weighing_cells), starred);
}

Section beside_buying(const Compared<Buying>& all, bool starred) {
  return beside_section({{"best course", false},
                         {"at the door " + all.answer.currency},
                         {"wait"},
                         {"net cost"},
                         to_order_column},
                        beside_lines(all, buying_cells), starred);
}

}  // namespace mendworth
