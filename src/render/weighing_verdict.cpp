#include <fmt/format.h>

#include <cmath>
#include <string>
#include <vector>

#include "render/again_words.hpp"
#include "render/answer_words.hpp"
#include "render/layout.hpp"
#include "render/number_text.hpp"
#include "render/weighing_charts.hpp"

namespace mendworth {

namespace {

const char* in_words(Confidence confidence) {
  switch (confidence) {
    case Confidence::clear: return ": clear";
    case Confidence::leaning: return ": leaning, not clear";
    case Confidence::toss_up: break;  // the first word of the sentence says so
  }
  return "";
}

// "over 5 years", "in the long run"
std::string span_text(const Weighing& w) {
  return w.need_years ? "over " + years_text(*w.need_years) : std::string("in the long run");
}

Sums sums_of(const Weighing& w) { return {w.currency, w.minor_digits}; }
std::string amount(const Weighing& w, double value) { return sums_of(w).amount(value); }
std::string estimate(const Weighing& w, double value, double error) {
  return sums_of(w).estimate(value, error);
}

std::string guarantee_words(const Weighing& w) {
  const GuaranteeAnswer& g = *w.guarantee;
  const std::string until =
      g.until ? fmt::format("the guarantee runs until {}", date_text(*g.until)) : "the guarantee is live";
  if (g.claim_worth > 0) {
    return fmt::format(
        "Claim first: {}; a claim is expected to be worth {} and to cost {} in waiting and "
        "time. Opening the device may end the guarantee.",
        until, amount(w, g.claim_worth), amount(w, g.claim_cost));
  }
  return fmt::format(
      "Note that {}, but claiming is expected to cost {} more than it brings. Opening the "
      "device may end it.",
      until, amount(w, -g.claim_worth));
}

// Whether best and next best are the best repair and the best replacement: then `saving` compares them.
bool is_of_these_two(const Verdict& v) {
  if (!v.saving || !v.lead_over) return false;
  return (v.best == v.best_repair && v.lead_over == v.best_replacement) ||
         (v.best == v.best_replacement && v.lead_over == v.best_repair);
}

// "; cheaper in 91 % of futures: clear"; where most futures disagree with the mean, the sum in them decides.
std::string sureness(const Verdict& v) {
  if (v.agreeing_share < 0.5)
    return fmt::format(", although it is dearer in {} of futures", percent(1 - v.agreeing_share));
  return fmt::format("; cheaper in {} of futures{}", percent(v.agreeing_share), in_words(v.confidence));
}

// "repairing is expected to cost EUR 3 less than the best replacement over 7 years (+/- 1.1)"
std::string expectation(const Weighing& w, const Verdict& v, const std::string& doing,
                        const std::string& than) {
  const double less = is_of_these_two(v) ? std::abs(*v.saving) : v.lead;
  const double error = is_of_these_two(v) ? v.saving_error : v.lead_error;
  const std::string text = supported_money_text(less, error, w.minor_digits);
  const std::string how_much = text.find_first_of("123456789") == std::string::npos
                                   ? "as much as"
                                   : estimate(w, less, error) + " less than";
  const std::string give_or_take =
      error > 0 ? " (" + kept_together("+/- " + error_text(error, w.minor_digits)) + ")" : "";
  return fmt::format("{}expected to cost {} {} {}{}{}.", doing, how_much, than, span_text(w), give_or_take,
                     sureness(v));
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
  return fmt::format("{}: {}", toss_up ? "Toss-up" : advice,
                     expectation(w, v, toss_up ? doing + " is " : "", than));
}

// The same where only a licensed repair is compared with replacing.
std::string referral_headline(const Weighing& w, const Verdict& v) {
  const bool repair = *v.saving >= 0;
  if (!is_of_these_two(v)) {
    return fmt::format("A licensed repair is expected to cost {} {} than the best replacement {} ({}).",
                       estimate(w, std::abs(*v.saving), v.saving_error), repair ? "less" : "more",
                       span_text(w), kept_together("+/- " + error_text(v.saving_error, w.minor_digits)));
  }
  const bool toss_up = v.confidence == Confidence::toss_up;
  const std::string doing = repair ? "licensed repair is " : "eplacing is ";
  const std::string begin = toss_up ? (repair ? "Toss-up: a " : "Toss-up: r") : (repair ? "A " : "R");
  return expectation(w, v, begin + doing, repair ? "the best replacement" : "a licensed repair");
}

// How the futures agree between repair and replacement.
std::string agreement(const Weighing& w) {
  const Verdict& v = w.verdict;
  const bool licensed = v.kind == VerdictKind::refer;
  // The share of whichever side the means favour.
  const bool repair = *v.saving > 0;
  const double share = repair ? v.repair_cheaper_share : 1.0 - v.repair_cheaper_share;
  const char* repairing = licensed ? "a licensed repair" : "repair";
  std::string text = fmt::format("Of repair and replacement: {} is cheaper in {} of {} futures",
                                 repair ? repairing : "replacing", percent(share), w.settings.futures);
  if (share < 0.5) text += ", but saves more in these than it loses in the others";
  return fmt::format(
      "{}. Saving by repair: below {} in one future of ten (P10), below {} in half of them (P50), below {} "
      "in "
      "nine of ten (P90); \"+/-\" is one standard error of the simulation.",
      text, estimate(w, v.saving_p10, v.saving_error), estimate(w, v.saving_p50, v.saving_error),
      estimate(w, v.saving_p90, v.saving_error));
}

void keep_words(std::vector<std::string>& strong, std::vector<std::string>& plain, const Weighing& w) {
  const OptionResult* repair = find_option(w, w.verdict.best_repair);
  if (repair == nullptr) {
    strong.emplace_back("It must be kept, but no repair of it is possible with the parts in this case.");
    return;
  }
  const std::string now = fmt::format(
      "epairing it costs {} now and works with a chance of {}; the device is lost with a chance of {}.",
      amount(w, repair->cost_now), percent(repair->cure_chance), percent(repair->write_off_chance));
  const OptionResult* best = find_option(w, w.verdict.best);
  if (best != nullptr && best->kind == OptionKind::leave) {
    const Verdict& v = w.verdict;
    strong.push_back(fmt::format(
        "{}must be kept, and leaving it as it is costs least: {} less than repairing it, expected {}{}.",
        v.confidence == Confidence::toss_up ? "Toss-up: it " : "It ",
        estimate(w, repair->present_cost - best->present_cost, v.lead_error), span_text(w), sureness(v)));
    plain.push_back("R" + now);
  } else {
    strong.push_back("It must be kept: r" + now);
  }
  std::string cost = fmt::format("Expected cost of repairing {}: {}.", span_text(w),
                                 estimate(w, repair->present_cost, repair->present_cost_error));
  if (repair->parts.keepsake == 0 && repair->write_off_chance > 0)
    cost += " Losing it is counted at nothing: give device.keepsake to count it.";
  plain.push_back(cost);
}

std::string price_unknown_words(const Weighing& w) {
  if (!w.unpriced || !w.unpriced->repair_pays_from)
    return "No replacement has a price, and at no price that makes sense does repair pay.";
  return fmt::format("No replacement has a price. Repair pays if a working one is worth at least {} to you.",
                     amount(w, *w.unpriced->repair_pays_from));
}

std::string referral_words(const Weighing& w) {
  std::vector<std::string> classes;
  for (const Weighing::Caution& caution : w.cautions) {
    if (caution.licensed_only) classes.push_back(caution.title);
  }
  return fmt::format("Not for your own hands{}: take it to a licensed person or a qualified workshop.",
                     classes.empty() ? "" : fmt::format(" ({})", fmt::join(classes, ", ")));
}

std::string risk_words(const OptionResult& repair) {
  return fmt::format(
      "Risk of the best repair at the first opening: some damage {}, device lost {}; works "
      "afterwards: {}. Later openings expected: {}.",
      percent(repair.damage_chance), percent(repair.write_off_chance), percent(repair.cure_chance),
      decimals_text(repair.later_visits_expected, 2));
}

// What to do at later failures belongs to the best repair.
std::string best_repair_words(const OptionResult& repair) {
  std::string with = repair.with.empty() ? "" : fmt::format(" ({})", fmt::join(repair.with, ", "));
  if (repair.mates_later) with += "; the mates at the next failure";
  const std::string later = again_words(repair.again);
  return fmt::format("Best repair: {}{}.{}", repair.name, with,
                     later.empty() ? "" : fmt::format(" Later: {}.", later));
}

// The parts whose failure came too early for the life assumed: "button: 0.4 %".
std::string doubted(const Weighing& w) {
  std::string failures;
  for (const PartEvidence& e : w.evidence) {
    if (e.wear_hardly_explains())
      failures += fmt::format("{}{}: {}", failures.empty() ? "" : ", ", e.part, percent(*e.early_chance));
  }
  return failures;
}

// The verdict stands on the life assumed, which the failure itself may put in doubt.
std::string doubt_words(const Weighing& w) {
  std::string text = fmt::format(
      "Wear hardly explains what has failed: the chance of it as early as this, with the life assumed, is "
      "small ({}). Another cause is likelier - a blow, a bad joint, liquid - or the use or the class of the "
      "part is wrong.",
      doubted(w));
  if (!w.another_cause) return text;
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
  return text;
}

std::string basis_words(const Weighing& w) {
  const std::string own_time = w.verdict.kind == VerdictKind::refer
                                   ? ""
                                   : fmt::format(", own time at {} an hour", amount(w, w.labour_rate));
  const std::string need = w.need_years ? "Needed for " + years_text(*w.need_years) : "The need goes on";
  return fmt::format("Device: {}. {}; {} a year{}.", w.device, need, percent(w.discount_rate), own_time);
}

}  // namespace

std::vector<DocumentBlock> verdict_opening(const Weighing& w) {
  std::vector<std::string> strong;
  std::vector<std::string> plain;
  if (w.guarantee && w.guarantee->live) strong.push_back(guarantee_words(w) + " Without a claim:");
  switch (w.verdict.kind) {
    case VerdictKind::repair:
    case VerdictKind::replace:
    case VerdictKind::leave: strong.push_back(headline(w, w.verdict)); break;
    case VerdictKind::keep: keep_words(strong, plain, w); break;
    case VerdictKind::price_unknown: strong.push_back(price_unknown_words(w)); break;
    case VerdictKind::refer:
      strong.push_back(referral_words(w));
      plain.push_back(w.verdict.saving ? referral_headline(w, w.verdict)
                                       : "Ask for the price of a licensed repair and state it in the case "
                                         "([licensed_repair]) to compare it with a replacement.");
      break;
  }
  if (const std::string parts = doubted(w); !parts.empty())
    plain.push_back(fmt::format("But wear hardly explains so early a failure ({}): --show verdict.", parts));
  std::vector<DocumentBlock> blocks;
  for (const std::string& text : strong) blocks.emplace_back(Paragraph{text, true});
  for (const std::string& text : plain) blocks.emplace_back(Paragraph{text});
  return blocks;
}

Section verdict_section(const Weighing& w) {
  Section section{"The verdict"};
  const Verdict& v = w.verdict;
  const bool referred = v.kind == VerdictKind::refer;
  if (v.saving && v.kind != VerdictKind::keep) {
    section.say(agreement(w));
    section.add(saving_chart(w));
  }
  if (w.unpriced && v.kind == VerdictKind::price_unknown) {
    Table table{.columns = {{"If a working one is worth"}, {"spend now at most"}}, .name = "worth-spending"};
    for (const WorthSpendingRow& row : w.unpriced->rows)
      table.add({amount(w, row.willing_to_pay), amount(w, row.most_worth_spending_now)});
    section.add(std::move(table));
  }
  if (!doubted(w).empty()) section.say(doubt_words(w));
  const OptionResult* repair = find_option(w, v.best_repair);
  if (repair != nullptr && !referred) section.say(best_repair_words(*repair));
  if (v.best_replacement) section.say("Best replacement: " + *v.best_replacement + ".");
  if (repair != nullptr && repair->kind == OptionKind::repair && !referred) section.say(risk_words(*repair));
  if (w.already_spent > 0) {
    section.say(fmt::format("Already spent: {}. It is gone either way, so it is not counted.",
                            amount(w, w.already_spent)));
  }
  if (w.guarantee && !w.guarantee->live && w.guarantee->until)
    section.say(fmt::format("The guarantee ended on {}.", date_text(*w.guarantee->until)));
  section.say(basis_words(w));
  if (w.costs_are_relative) {
    section.say(
        "At no interest costs without end cannot be added up: present costs are counted against buying the "
        "best replacement again and again from now on, whose own is nought.");
  }
  return section;
}

}  // namespace mendworth
