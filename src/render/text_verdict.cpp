#include <fmt/format.h>

#include <cmath>
#include <string>

#include "render/number_text.hpp"
#include "render/weighing_sections.hpp"

namespace mendworth {

namespace {

const char* in_words(Confidence confidence) {
  switch (confidence) {
    case Confidence::clear: return "clear";
    case Confidence::leaning: return "leaning, not clear";
    case Confidence::toss_up: return "a toss-up";
  }
  return "";
}

std::string horizon_text(const Weighing& w) { return years_text(w.horizon_years); }

std::string simulation_error(const Weighing& w) {
  return fmt::format("(+/- {} simulation error)", money_text(w.verdict.saving_error, w.minor_digits));
}

void write_guarantee(Page& page, const Weighing& w) {
  if (!w.guarantee || !w.guarantee->live) return;
  const GuaranteeAnswer& g = *w.guarantee;
  const std::string until =
      g.until ? fmt::format("the guarantee runs until {}", date_text(*g.until)) : "the guarantee is live";
  if (g.claim_worth > 0) {
    page.paragraph(
        fmt::format("Claim first: {}; a claim is expected to be worth {} and to cost {} in waiting and "
                    "time. Opening the device may end the guarantee.",
                    until, amount(w, g.claim_worth), amount(w, g.claim_cost)),
        true);
  } else {
    page.paragraph(
        fmt::format("Note that {}, but claiming is expected to cost {} more than it brings. Opening the "
                    "device may end it.",
                    until, amount(w, -g.claim_worth)),
        true);
  }
  page.paragraph("Without a claim:");
}

void write_expired_guarantee(Page& page, const Weighing& w) {
  if (!w.guarantee || w.guarantee->live || !w.guarantee->until) return;
  page.paragraph(fmt::format("The guarantee ended on {}.", date_text(*w.guarantee->until)));
}

// The horizon cuts off the life of a device bought late. Shown only where that says more than the simulation error.
void write_unused_life(Page& page, const Weighing& w) {
  const Verdict& v = w.verdict;
  if (!v.saving || !v.saving_unused_life_counted) return;
  const double credited = *v.saving_unused_life_counted;
  if (std::abs(credited - *v.saving) <= v.saving_error && !v.unused_life_turns) return;
  // A referral compares repair and replacement only; the other verdicts have a third course, to leave it.
  const bool refers = v.kind == VerdictKind::refer;
  const bool turns = refers ? (credited > 0) != (*v.saving > 0) : v.unused_life_turns;
  std::string text = fmt::format(
      "Not counted is what a device bought later is still good for at the horizon. Credited by its "
      "unused life, the saving by repair would be {}",
      amount(w, credited));
  if (turns) {
    text += fmt::format(
        ", and the {} would turn: give replacement resale values or set horizon.count_unused_life = true",
        refers ? "comparison" : "verdict");
  } else if (v.kind == VerdictKind::leave) {
    text += "; to leave it would still cost least";
  }
  page.paragraph(text + '.');
}

// How the futures agree between repair and replacement. `confidence` belongs to the verdict: it is left out where
// that is about something else.
void write_agreement(Page& page, const Weighing& w, const std::string& repair_word, bool confidence = true) {
  const Verdict& v = w.verdict;
  // The share of whichever side the means favour, so that "clear" stands beside a large one.
  const bool repair = *v.saving > 0;
  const double share = repair ? v.repair_cheaper_share : 1.0 - v.repair_cheaper_share;
  std::string text = fmt::format("{} is cheaper in {} of {} futures", repair ? repair_word : "Replacing",
                                 percent(share), grouped_text(w.settings.futures));
  if (confidence) text += fmt::format(": {}", in_words(v.confidence));
  text += '.';
  // The mean can favour the side that wins less often, because it then wins by more.
  if (share < 0.5) text += " It saves less often than not, but then more than it costs at other times.";
  page.paragraph(fmt::format("{} Saving by repair: P10 {}, P50 {}, P90 {}.", text, amount(w, v.saving_p10),
                             amount(w, v.saving_p50), amount(w, v.saving_p90)));
  write_unused_life(page, w);
}

// The sentence for a best option that has no counterpart in `saving`.
std::string lead_sentence(const Weighing& w, const std::string& imperative) {
  const Verdict& v = w.verdict;
  if (!v.lead_over) return fmt::format("{}: nothing else is open.", imperative);
  return fmt::format("{}: expected to cost {} less than the next best ({}) over {}; that is {}.", imperative,
                     amount(w, v.lead), *v.lead_over, horizon_text(w), in_words(v.confidence));
}

void write_repair(Page& page, const Weighing& w) {
  const Verdict& v = w.verdict;
  if (!v.saving) {
    page.paragraph(lead_sentence(w, "Repair it"), true);
    return;
  }
  page.paragraph(fmt::format("Repair it: expected to cost {} less than the best replacement over {} {}.",
                             amount(w, *v.saving), horizon_text(w), simulation_error(w)),
                 true);
  write_agreement(page, w, "Repair");
}

void write_replace(Page& page, const Weighing& w) {
  const Verdict& v = w.verdict;
  if (!v.saving) {
    page.paragraph(lead_sentence(w, "Replace it"), true);
    return;
  }
  page.paragraph(fmt::format("Replace it: expected to cost {} less than the best repair over {} {}.",
                             amount(w, -*v.saving), horizon_text(w), simulation_error(w)),
                 true);
  write_agreement(page, w, "Repair");
}

void write_leave(Page& page, const Weighing& w) {
  page.paragraph(lead_sentence(w, "Leave it as it is"), true);
  if (w.verdict.saving) write_agreement(page, w, "Of the two, repair", false);
}

void write_keep(Page& page, const Weighing& w) {
  const OptionResult* repair = find_option(w, w.verdict.best_repair);
  if (repair == nullptr) {
    page.paragraph("It must be kept, but no repair of it is possible with the parts in this case.", true);
    return;
  }
  const std::string now = fmt::format(
      "epairing it costs {} now and works with a chance of {}; the device is lost with a chance of {}.",
      amount(w, repair->cost_now), percent(repair->cure_chance), percent(repair->write_off_chance));
  const OptionResult* best = find_option(w, w.verdict.best);
  if (best != nullptr && best->kind == OptionKind::leave) {
    page.paragraph(
        fmt::format("It must be kept, and leaving it as it is costs least: {} less than repairing it, "
                    "expected over {}; that is {}.",
                    amount(w, repair->present_cost - best->present_cost), horizon_text(w),
                    in_words(w.verdict.confidence)),
        true);
    page.paragraph("R" + now);
  } else {
    page.paragraph("It must be kept: r" + now, true);
  }
  std::string cost = fmt::format("Expected cost of repairing over {}: {}.", horizon_text(w),
                                 amount(w, repair->present_cost));
  if (repair->parts.keepsake == 0 && repair->write_off_chance > 0) {
    cost += " Losing it is counted at nothing: give device.keepsake to count it.";
  }
  page.paragraph(cost);
}

void write_price_unknown(Page& page, const Weighing& w) {
  if (w.unpriced && w.unpriced->repair_pays_from) {
    page.paragraph(
        fmt::format("No replacement has a price. Repair pays if a working one is worth at least {} to you.",
                    amount(w, *w.unpriced->repair_pays_from)),
        true);
  } else {
    page.paragraph("No replacement has a price, and at no price that makes sense does repair pay.", true);
  }
  if (!w.unpriced || w.unpriced->rows.empty()) return;
  page.empty_line();
  Table table(
      {{"If a working one\nis worth", Table::Align::right}, {"spend now\nat most", Table::Align::right}});
  for (const WorthSpendingRow& row : w.unpriced->rows) {
    table.add_row({amount(w, row.willing_to_pay), amount(w, row.most_worth_spending_now)});
  }
  page.table(table);
}

void write_referral(Page& page, const Weighing& w) {
  std::string classes;
  for (const Weighing::Caution& caution : w.cautions) {
    if (!caution.licensed_only) continue;
    if (!classes.empty()) classes += ", ";
    classes += caution.title;
  }
  page.paragraph(
      fmt::format("Not for your own hands{}: take it to a licensed person or a qualified workshop.",
                  classes.empty() ? "" : " (" + classes + ")"),
      true);
  const Verdict& v = w.verdict;
  if (!v.saving) {
    page.paragraph(
        "Ask for the price of a licensed repair and state it in the case ([licensed_repair]) to compare it "
        "with a replacement.");
    return;
  }
  const bool repair = *v.saving >= 0;
  page.paragraph(fmt::format(
      "A licensed repair is expected to cost {} {} than the best replacement over {} {}.",
      amount(w, std::abs(*v.saving)), repair ? "less" : "more", horizon_text(w), simulation_error(w)));
  write_agreement(page, w, "A licensed repair");
}

void write_risk(Page& page, const Weighing& w) {
  const OptionResult* repair = find_option(w, w.verdict.best_repair);
  if (repair == nullptr || repair->kind != OptionKind::repair) return;
  page.paragraph(
      fmt::format("Risk of the best repair at the first opening: some damage {}, device lost {}; works "
                  "afterwards: {}. Later openings expected: {}.",
                  percent(repair->damage_chance), percent(repair->write_off_chance),
                  percent(repair->cure_chance), decimals_text(repair->later_visits_expected, 2)));
}

void write_basis(Page& page, const Weighing& w) {
  const std::string own_time = w.verdict.kind == VerdictKind::refer
                                   ? ""
                                   : fmt::format(", own time at {} an hour", amount(w, w.labour_rate));
  page.paragraph(fmt::format("Device: {}. Horizon {}{}, {} a year{}.", w.device, horizon_text(w),
                             w.horizon_is_default ? " (default)" : "", percent(w.discount_rate), own_time));
}

}  // namespace

void verdict_section(Page& page, const Weighing& w) {
  write_guarantee(page, w);
  switch (w.verdict.kind) {
    case VerdictKind::repair: write_repair(page, w); break;
    case VerdictKind::replace: write_replace(page, w); break;
    case VerdictKind::leave: write_leave(page, w); break;
    case VerdictKind::keep: write_keep(page, w); break;
    case VerdictKind::price_unknown: write_price_unknown(page, w); break;
    case VerdictKind::refer: write_referral(page, w); break;
  }
  page.empty_line();
  if (w.verdict.best_repair && w.verdict.kind != VerdictKind::refer) {
    page.paragraph("Best repair: " + *w.verdict.best_repair + ".", false, 0, 2);
  }
  if (w.verdict.best_replacement) {
    page.paragraph("Best replacement: " + *w.verdict.best_replacement + ".", false, 0, 2);
  }
  if (w.verdict.kind != VerdictKind::refer) write_risk(page, w);
  if (w.already_spent > 0) {
    page.paragraph(fmt::format("Already spent: {}. It is gone either way, so it is not counted.",
                               amount(w, w.already_spent)));
  }
  write_expired_guarantee(page, w);
  write_basis(page, w);
}

}  // namespace mendworth
