#include "render/shop_sheet.hpp"

#include <algorithm>
#include <cstddef>

#include "mendworth/written.hpp"
#include "render/number_text.hpp"

namespace mendworth {

namespace {

Section new_section(const std::string& heading) {
  Section section;
  section.heading = heading;
  return section;
}

const ShopChoice* proposed_choice(const ShopPage& page) {
  const auto index = static_cast<std::size_t>(std::max(0, page.proposed));
  return index < page.choices.size() ? &page.choices[index] : nullptr;
}

void opening(Document& sheet, const ShopPage& page, const Pen& pen) {
  Facts job;
  job.add("Device", page.device);
  job.add("Number", page.number.value_or("none: a draft"));
  job.add("Date", pen.day(page.date));
  job.add("Case", page.source_name);
  job.add("Shop", page.shop_source.empty() ? "no shop file" : page.shop_source);
  Facts basis;
  basis.add("Charged an hour", pen.sum(page.charge_rate));
  basis.add("Cost of an hour", pen.sum(page.cost_rate));
  basis.add("Target margin", pen.percent(page.target_margin) + " of the income");
  basis.add("Warranty", page.warranty_days > 0 ? count_text(page.warranty_days, "day", "days") : "none");
  basis.add("Owner looks ahead", written_years(page.horizon_years));
  basis.add("Simulated", pen.number(page.futures, 0) + " futures, seed " + std::to_string(page.seed));
  sheet.opening.emplace_back(job);
  sheet.opening.emplace_back(basis);
}

// The answer in one sentence, before any table.
std::string headline(const ShopChoice& choice, const Pen& pen) {
  std::string text = choice.title + ": expected margin " + pen.sum(choice.margin);
  if (choice.margin_share) text += ", " + pen.percent(*choice.margin_share) + " of the income";
  text += "; chance of a loss " + pen.percent(choice.loss_chance) + ".";
  if (choice.lowest_price_total)
    text += " No expected loss from a quoted " + pen.sum(*choice.lowest_price_total) + " on.";
  return text;
}

void answer_section(Document& sheet, const ShopPage& page, const Pen& pen) {
  Section section = new_section("The proposed choice");
  if (const ShopChoice* choice = proposed_choice(page))
    section.blocks.emplace_back(Notice{headline(*choice, pen)});
  if (!page.owner_verdict.empty()) section.blocks.emplace_back(Paragraph{page.owner_verdict});
  if (!section.blocks.empty()) sheet.sections.push_back(section);
}

void choice_sections(Document& sheet, const ShopPage& page, const Pen& pen) {
  if (page.choices.empty()) return;
  const auto add = [&](const std::string& heading, Table table, const std::string& note = "") {
    if (table.rows.empty()) return;
    Section section = new_section(heading);
    section.blocks.emplace_back(std::move(table));
    if (!note.empty()) section.blocks.emplace_back(Paragraph{note});
    sheet.sections.push_back(std::move(section));
  };
  add("What to order", order_table(page, pen));
  add("Income and cost", income_table(page, pen));
  add("Margin", margin_table(page, pen));
  add("Prices", price_table(page, pen),
      "As quoted: as the customer would read it, taxes added. No cure no fee: nothing is charged where it "
      "cannot be repaired.");
  add("Time", time_table(page, pen));
  add("Consent limit", ceiling_table(page, pen));
  add("Warranty", reserve_table(page, pen));
}

void moves_section(Document& sheet, const ShopPage& page, const Pen& pen) {
  const ShopChoice* choice = proposed_choice(page);
  if (choice == nullptr || choice->moves.empty()) return;
  Section section = new_section("What moves the margin most");
  section.blocks.emplace_back(moves_table(*choice, pen));
  const bool any_stated = std::any_of(choice->moves.begin(), choice->moves.end(),
                                      [](const MarginRow& row) { return !row.uncertain; });
  std::string note = "Of the proposed choice, one input changed at a time.";
  if (any_stated) note += " * a single value, looked at from -20 % to +20 %.";
  section.blocks.emplace_back(Paragraph{note});
  sheet.sections.push_back(std::move(section));
}

std::string share_text(const DiagnosisAnswer& d, const Pen& pen) {
  const std::string range = pen.percent(d.walk_away_low) + " to " + pen.percent(d.walk_away_high);
  if (!d.walk_away_known) return "not known; " + range + " looked at";
  if (d.walk_away_low == d.walk_away_high) return pen.percent(d.walk_away);
  return pen.percent(d.walk_away) + " (" + range + ")";
}

void diagnosis_section(Document& sheet, const ShopPage& page, const Pen& pen) {
  if (!page.diagnosis) return;
  const DiagnosisAnswer& d = *page.diagnosis;
  Facts facts;
  facts.add("Fee, without tax", d.fee > 0
                                    ? pen.sum(d.fee) + (d.credited ? ", not charged if the job goes ahead"
                                                                   : ", charged in any case")
                                    : std::string("none"));
  facts.add("Cost of the bench time", pen.sum(d.cost));
  facts.add("Customers who walk away", share_text(d, pen));
  std::string intake = pen.sum(d.income_per_intake);
  if (d.income_low != d.income_high)
    intake += " (" + pen.sum(d.income_low) + " to " + pen.sum(d.income_high) + ")";
  facts.add("Expected margin of a device brought in", intake);
  facts.add("Fee of no expected loss",
            d.break_even_fee ? pen.sum(*d.break_even_fee) + ", without tax" : "no fee is enough");
  facts.add("An intake earns nothing",
            d.turning_share ? "where " + pen.percent(*d.turning_share) + " of the customers walk away"
                            : "at no share of customers who walk away");
  Section section = new_section("Diagnosis");
  section.blocks.emplace_back(facts);
  sheet.sections.push_back(std::move(section));
}

void cautions_section(Document& sheet, const ShopPage& page) {
  if (page.cautions.empty()) return;
  Facts facts;
  for (const PageCaution& caution : page.cautions) facts.add(caution.title, caution.sentences);
  Section section = new_section("Cautions");
  section.blocks.emplace_back(facts);
  sheet.sections.push_back(std::move(section));
}

// Beside the customer's page, which has no room to spare for what is seldom needed.
Form more_form() {
  Form form;
  form.title = "Consent to more than the limit";
  form.sentences = {
      "Filled in before any work that would cost more than the limit, or that is not listed, is done."};
  form.blanks = {"Added parts and work", "New total, taxes included",     "Consent given by",
                 "On (date, time)",      "How (in person, phone number)", "Noted by"};
  return form;
}

void list_section(Document& sheet, const std::string& heading, const std::vector<std::string>& items) {
  if (items.empty()) return;
  Section section = new_section(heading);
  section.blocks.emplace_back(List{items});
  sheet.sections.push_back(std::move(section));
}

}  // namespace

Document shop_sheet(const ShopPage& page) {
  const Pen pen(page.currency, page.style);
  Document sheet;
  sheet.title = "Quote at cost";
  sheet.name = sheet_name(sheet.title, page.number, page.device);
  sheet.mark = "For the shop only";
  opening(sheet, page, pen);
  answer_section(sheet, page, pen);
  choice_sections(sheet, page, pen);
  moves_section(sheet, page, pen);
  if (!page.what_ifs.empty()) sheet.sections.push_back(shop_what_ifs(page, pen));
  diagnosis_section(sheet, page, pen);
  cautions_section(sheet, page);
  list_section(sheet, "Left open by the shop file", page.defaults);
  list_section(sheet, "Notes", page.notes);
  Section consent = new_section("The customer's consent");
  consent.blocks.emplace_back(more_form());
  sheet.sections.push_back(std::move(consent));
  return sheet;
}

}  // namespace mendworth
