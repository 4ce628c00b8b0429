#include <fmt/format.h>

#include <cmath>
#include <string>

#include "render/again_words.hpp"
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

// "over 5 years", "in the long run"
std::string span_text(const Weighing& w) {
  return w.need_years ? "over " + years_text(*w.need_years) : std::string("in the long run");
}

std::string simulation_error(const Weighing& w, double error) {
  return fmt::format("(+/- {} simulation error)", error_text(error, w.minor_digits));
}

// An amount of the verdict, which the error of the saving limits.
std::string saving_text(const Weighing& w, double value) {
  return estimate(w, value, w.verdict.saving_error);
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

// Whether best and next best are the best repair and the best replacement: then `saving` compares them, and
// `confidence` is about it.
bool is_of_these_two(const Verdict& v) {
  if (!v.saving || !v.lead_over) return false;
  return (v.best == v.best_repair && v.lead_over == v.best_replacement) ||
         (v.best == v.best_replacement && v.lead_over == v.best_repair);
}

// Where most futures disagree with the mean, a toss-up always.
std::string against_most_futures(const Verdict& v) {
  if (v.agreeing_share >= 0.5) return "";
  return fmt::format(", although it is dearer in {} of futures: what it saves in the others decides",
                     percent(1 - v.agreeing_share));
}

// "repairing is expected to cost EUR 3 less than the best replacement over 7 years (+/- 1.1 simulation error)"
std::string expectation(const Weighing& w, const Verdict& v, const std::string& doing,
                        const std::string& than) {
  const double less = is_of_these_two(v) ? std::abs(*v.saving) : v.lead;
  const double error = is_of_these_two(v) ? v.saving_error : v.lead_error;
  const std::string text = supported_money_text(less, error, w.minor_digits);
  const std::string how_much = text.find_first_of("123456789") == std::string::npos
                                   ? "as much as"
                                   : estimate(w, less, error) + " less than";
  return fmt::format("{}expected to cost {} {} {}{}{}", doing, how_much, than, span_text(w),
                     error > 0 ? " " + simulation_error(w, error) : "", against_most_futures(v));
}

// The verdict in a sentence; a toss-up is called one first.
std::string headline(const Weighing& w, const Verdict& v) {
  std::string advice = "Leave it as it is";
  std::string doing = "leaving it as it is";
  std::string than;
  if (v.kind == VerdictKind::repair) {
    advice = "Repair it";
    doing = "repairing";
    than = "the best replacement";
  } else if (v.kind == VerdictKind::replace) {
    advice = "Replace it";
    doing = "replacing";
    than = "the best repair";
  }
  if (!v.lead_over) return advice + ": nothing else is open.";
  if (!is_of_these_two(v)) than = fmt::format("the next best ({})", *v.lead_over);
  const bool toss_up = v.confidence == Confidence::toss_up;
  std::string text = fmt::format("{}: {}", toss_up ? "Toss-up" : advice,
                                 expectation(w, v, toss_up ? doing + " is " : "", than));
  if (!is_of_these_two(v) && !toss_up) text += fmt::format("; that is {}", in_words(v.confidence));
  return text + '.';
}

// The same where only a licensed repair is compared with replacing.
std::string referral_headline(const Weighing& w, const Verdict& v) {
  const bool repair = *v.saving >= 0;
  if (!is_of_these_two(v)) {
    return fmt::format("A licensed repair is expected to cost {} {} than the best replacement over {} {}.",
                       estimate(w, std::abs(*v.saving), v.saving_error), repair ? "less" : "more",
                       span_text(w), simulation_error(w, v.saving_error));
  }
  const bool toss_up = v.confidence == Confidence::toss_up;
  const std::string doing = repair ? "licensed repair is " : "eplacing is ";
  const std::string begin = toss_up ? (repair ? "Toss-up: a " : "Toss-up: r") : (repair ? "A " : "R");
  return expectation(w, v, begin + doing, repair ? "the best replacement" : "a licensed repair") + '.';
}

// How the futures agree between repair and replacement. The confidence is left out where it is about something else,
// and where the headline has it.
void write_agreement(Page& page, const Weighing& w, const std::string& repair_word) {
  const Verdict& v = w.verdict;
  // The share of whichever side the means favour, so that "clear" stands beside a large one.
  const bool repair = *v.saving > 0;
  const double share = repair ? v.repair_cheaper_share : 1.0 - v.repair_cheaper_share;
  std::string text = fmt::format("{} is cheaper in {} of {} futures", repair ? repair_word : "Replacing",
                                 percent(share), grouped_text(w.settings.futures));
  if (is_of_these_two(v)) {
    if (v.confidence != Confidence::toss_up) text += fmt::format(": {}", in_words(v.confidence));
  } else if (share < 0.5) {
    text += ", but saves more in these than it loses in the others";
  }
  page.paragraph(fmt::format("{}. Saving by repair: P10 {}, P50 {}, P90 {}.", text,
                             saving_text(w, v.saving_p10), saving_text(w, v.saving_p50),
                             saving_text(w, v.saving_p90)));
}

void write_course(Page& page, const Weighing& w) {
  page.paragraph(headline(w, w.verdict), true);
  if (!w.verdict.saving) return;
  write_agreement(page, w, is_of_these_two(w.verdict) ? "Repair" : "Of the two, repair");
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
    const Verdict& v = w.verdict;
    const bool toss_up = v.confidence == Confidence::toss_up;
    page.paragraph(
        fmt::format("{}must be kept, and leaving it as it is costs least: {} less than repairing it, "
                    "expected {}{}{}.",
                    toss_up ? "Toss-up: it " : "It ",
                    estimate(w, repair->present_cost - best->present_cost, v.lead_error), span_text(w),
                    against_most_futures(v),
                    toss_up ? "" : fmt::format("; that is {}", in_words(v.confidence))),
        true);
    page.paragraph("R" + now);
  } else {
    page.paragraph("It must be kept: r" + now, true);
  }
  std::string cost = fmt::format("Expected cost of repairing {}: {}.", span_text(w),
                                 estimate(w, repair->present_cost, repair->present_cost_error));
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
  page.paragraph(referral_headline(w, v));
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

// What to do at later failures belongs to the best repair.
void write_best_repair(Page& page, const Weighing& w) {
  if (!w.verdict.best_repair || w.verdict.kind == VerdictKind::refer) return;
  const OptionResult* repair = find_option(w, w.verdict.best_repair);
  const std::string later = repair == nullptr ? "" : again_words(repair->again);
  std::string with;
  for (std::size_t i = 0; repair != nullptr && i < repair->with.size(); ++i)
    with += (i == 0 ? " (" : ", ") + repair->with[i];
  if (!with.empty()) with += ")";
  if (repair != nullptr && repair->mates_later) with += "; the mates at the next failure";
  page.paragraph(fmt::format("Best repair: {}{}.{}", *w.verdict.best_repair, with,
                             later.empty() ? "" : fmt::format(" Later: {}.", later)),
                 false, 0, 2);
}

// The verdict stands on the life assumed, which the failure itself may put in doubt.
void write_doubt(Page& page, const Weighing& w) {
  std::string failures;
  for (const PartEvidence& e : w.evidence) {
    if (!e.wear_hardly_explains()) continue;
    failures += fmt::format("{}{}: {}", failures.empty() ? "" : ", ", e.part, percent(*e.early_chance));
  }
  if (failures.empty()) return;
  std::string text = fmt::format(
      "Wear hardly explains what has failed: the chance of it as early as this, with the life assumed, is "
      "small "
      "({}). Another cause is likelier - a blow, a bad joint, liquid - or the use or the class of the part "
      "is wrong.",
      failures);
  if (w.another_cause) {
    const AnotherCause& other = *w.another_cause;
    const Verdict& v = other.verdict;
    std::string then;
    switch (v.kind) {
      case VerdictKind::repair:
      case VerdictKind::replace:
      case VerdictKind::leave: then = headline(w, v); break;
      case VerdictKind::refer: then = v.saving ? referral_headline(w, v) : ""; break;
      case VerdictKind::price_unknown:
        then = other.repair_pays_from ? fmt::format("Repair pays if a working one is worth at least {}.",
                                                    amount(w, *other.repair_pays_from))
                                      : "At no price that makes sense does repair pay.";
        break;
      case VerdictKind::keep: break;
    }
    if (!then.empty())
      text += fmt::format(" With fault.cause = \"{}\" the answer is: {}", name_of(other.cause), then);
  }
  page.paragraph(text);
}

void write_basis(Page& page, const Weighing& w) {
  const std::string own_time = w.verdict.kind == VerdictKind::refer
                                   ? ""
                                   : fmt::format(", own time at {} an hour", amount(w, w.labour_rate));
  const std::string need = w.need_years ? "Needed for " + years_text(*w.need_years) : "The need goes on";
  page.paragraph(
      fmt::format("Device: {}. {}; {} a year{}.", w.device, need, percent(w.discount_rate), own_time));
  if (w.costs_are_relative) {
    page.paragraph(
        "At no interest costs without end cannot be added up: present costs are counted against buying the "
        "best "
        "replacement again and again from now on, whose own is nought.");
  }
}

}  // namespace

void verdict_section(Page& page, const Weighing& w) {
  write_guarantee(page, w);
  switch (w.verdict.kind) {
    case VerdictKind::repair:
    case VerdictKind::replace:
    case VerdictKind::leave: write_course(page, w); break;
    case VerdictKind::keep: write_keep(page, w); break;
    case VerdictKind::price_unknown: write_price_unknown(page, w); break;
    case VerdictKind::refer: write_referral(page, w); break;
  }
  write_doubt(page, w);
  page.empty_line();
  write_best_repair(page, w);
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
