#include <fmt/format.h>

#include <algorithm>
#include <string>
#include <vector>

#include "render/beside.hpp"
#include "render/number_text.hpp"

// What stands beside each kind of answer, and the answers' JSON with it.
namespace mendworth {

namespace {

constexpr const char* none = "-";

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

std::string count_words(double value) { return decimals_text(value, value < 10 ? 2 : value < 100 ? 1 : 0); }

// For each part that is wanted the ladder whose best single purchase costs least.
std::vector<const BulkLadder*> best_ladders(const BulkScenario& scenario) {
  std::vector<const BulkLadder*> best;
  for (const BulkLadder& ladder : scenario.ladders) {
    const auto same = std::find_if(best.begin(), best.end(),
                                   [&](const BulkLadder* other) { return other->part == ladder.part; });
    if (same == best.end()) {
      best.push_back(&ladder);
    } else if (ladder.best.cost < (*same)->best.cost) {
      *same = &ladder;
    }
  }
  return best;
}

std::string bought_once(const std::vector<const BulkLadder*>& ladders) {
  std::vector<std::string> words;
  for (const BulkLadder* ladder : ladders) {
    std::string text = fmt::format("{} x {}", ladder->best.quantity, ladder->candidate);
    for (const BulkLine& line : ladder->best.lines)
      text += (&line == &ladder->best.lines.front() ? " from " : ", ") + line.supplier;
    words.push_back(std::move(text));
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

std::string unit_words(const BulkScenario& scenario) {
  for (const SwapOutRow& row : scenario.swap_out.rows) {
    if (row.chosen) return fmt::format("{}", row.units);
  }
  return none;
}

std::vector<std::string> bulk_cells(const BulkAnswer& a, const BulkScenario& scenario) {
  const Sums sums(a.currency, a.minor_digits);
  double wanted = 0, low = 0, high = 0, cost = 0, write_off = 0, left = 0, suffices = 1;
  for (const PartDemand& d : scenario.demand) {
    wanted += d.mean;
    low += d.low;
    high += d.high;
  }
  const auto ladders = best_ladders(scenario);
  for (const BulkLadder* ladder : ladders) {
    cost += ladder->best.cost;
    write_off += ladder->best.write_off;
    left += ladder->best.left_pieces;
    suffices = std::min(suffices, ladder->best.suffices);
  }
  return {fmt::format("{} ({:.0f}..{:.0f})", count_words(wanted), low, high),
          bought_once(ladders),
          sums.cell(cost, cost),
          percent_text(1 - suffices),
          count_words(left),
          sums.cell(write_off, cost),
          policy_words(scenario),
          unit_words(scenario)};
}

// Each answer as it would be alone.
template <class Answer>
std::string with_beside(const Compared<Answer>& all, std::string (*json_of)(const Answer&)) {
  std::string alone = json_of(all.answer);
  if (all.beside.empty()) return alone;
  Json out = Json::read(alone).value();
  Json others = Json::array();
  for (const auto& other : all.beside) {
    others.push_back({{"name", other.name},
                      {"changes", changes_json(other.changes)},
                      {"answer", Json::read(json_of(other.answer)).value()}});
  }
  out.add("beside", std::move(others));
  return out.text();
}

}  // namespace

Section beside_bulk(const Compared<BulkAnswer>& all, bool starred) {
  const BulkAnswer& a = all.answer;
  std::vector<BesideLine> lines;
  const auto add = [&](const std::string& name, const BulkAnswer& answer,
                       const std::vector<Change>& changes) {
    for (std::size_t i = 0; i < answer.scenarios.size(); ++i) {
      const BulkScenario& scenario = answer.scenarios[i];
      lines.push_back({answer.scenarios.size() > 1 ? name + ", " + scenario.name : name,
                       bulk_cells(answer, scenario), i == 0 ? changes : std::vector<Change>{},
                       std::min(i, a.scenarios.size() - 1)});
    }
  };
  if (all.beside.empty()) return {"", {}, {}, beside_name};
  add(name_of_first(all), a, {});
  for (const auto& other : all.beside) add(other.name, other.answer, other.changes);
  return beside_section({{"pieces wanted"},
                         {"buy once", false},
                         {"expected cost " + a.currency},
                         {"runs out"},
                         {"left"},
                         {"write-off"},
                         {"policy", false},
                         {"units"}},
                        lines, starred);
}

Section beside_weighing(const Compared<Weighing>& all, bool starred) {
  return beside_section(
      {{"verdict", false}, {"saving " + all.answer.currency}, {"+/-"}, {"money now"}, {"to order", false}},
      beside_lines(all, weighing_cells), starred);
}

Section beside_buying(const Compared<Buying>& all, bool starred) {
  return beside_section({{"best course", false},
                         {"at the door " + all.answer.currency},
                         {"wait"},
                         {"net cost"},
                         {"to order", false}},
                        beside_lines(all, buying_cells), starred);
}

std::string compared_json(const Compared<Weighing>& all) { return with_beside(all, weighing_json); }
std::string compared_json(const Compared<Buying>& all) { return with_beside(all, buying_json); }
std::string compared_json(const Compared<BulkAnswer>& all) { return with_beside(all, bulk_json); }

}  // namespace mendworth
