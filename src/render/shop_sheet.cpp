#include "render/shop_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cstddef>
#include <utility>

#include "mendworth/written.hpp"
#include "render/layout.hpp"
#include "render/number_text.hpp"

namespace mendworth {

namespace {

const ShopChoice* proposed_choice(const ShopPage& page) {
  const auto index = static_cast<std::size_t>(std::max(0, page.proposed));
  return index < page.choices.size() ? &page.choices[index] : nullptr;
}

constexpr std::size_t widest_moves = 5, widest_moves_if_narrow = 3;
constexpr int narrow_columns = 70, one_line_columns = 80;

Pen pen_of(const ShopPage& page) { return {page.currency, page.style}; }

Section tabled(const char* heading, Table table) {
  Section section;
  section.add(std::move(table));
  if (!section.blocks.empty()) section.heading = heading;
  return section;
}

Section prices_of(const ShopPage& page) {
  Section section = tabled("Prices", price_table(page, pen_of(page)));
  section.say(
      "As quoted: as the customer would read it, taxes added. No cure no fee: nothing is charged where it "
      "cannot be repaired.");
  return section;
}

Section moves_of(const ShopPage& page) {
  const ShopChoice* choice = proposed_choice(page);
  if (choice == nullptr || choice->moves.empty()) return {};
  Section section = tabled("What moves the margin most", moves_table(*choice, pen_of(page)));
  const bool any_stated =
      std::ranges::any_of(choice->moves, [](const MarginRow& row) { return !row.uncertain; });
  section.say(std::string("Of the proposed choice, one input changed at a time.") +
              (any_stated ? " * a single value, looked at from -20 % to +20 %." : ""));
  return section;
}

Section basis_of(const ShopPage& page) {
  const Pen pen = pen_of(page);
  Facts facts;
  facts.add("Device", page.device);
  facts.add("Number", page.number.value_or("none: a draft"));
  facts.add("Date", pen.day(page.date));
  facts.add("Case", page.source_name);
  facts.add("Shop", page.shop_source.empty() ? "no shop file" : page.shop_source);
  facts.add("Charged an hour", pen.sum(page.charge_rate));
  facts.add("Cost of an hour", pen.sum(page.cost_rate));
  facts.add("Target margin", pen.percent(page.target_margin) + " of the income");
  facts.add("Warranty", page.warranty_days > 0 ? count_text(page.warranty_days, "day", "days") : "none");
  facts.add("Owner looks ahead", written_years(page.horizon_years));
  facts.add("Simulated", pen.number(page.futures, 0) + " futures, seed " + std::to_string(page.seed));
  return headed("What it rests on", facts);
}

std::string share_text(const DiagnosisAnswer& d, const Pen& pen) {
  const std::string range =
      kept_together(pen.percent(d.walk_away_low) + " to " + pen.percent(d.walk_away_high));
  if (!d.walk_away_known) return "not known; " + range + " looked at";
  if (d.walk_away_low == d.walk_away_high) return pen.percent(d.walk_away);
  return pen.percent(d.walk_away) + " (" + range + ")";
}

Section diagnosis_of(const ShopPage& page) {
  if (!page.diagnosis) return {};
  const Pen pen = pen_of(page);
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
  return headed("Diagnosis", facts);
}

Section hazards_of(const ShopPage& page) {
  if (page.cautions.empty()) return {};
  Facts facts;
  for (const PageCaution& caution : page.cautions) facts.add(caution.title, caution.sentences);
  return headed("Cautions", facts);
}

Section bulleted(const std::string& heading, const std::vector<std::string>& items) {
  return items.empty() ? Section{} : headed(heading, List{items});
}
Section unset_of(const ShopPage& page) { return bulleted("Left open by the shop file", page.defaults); }
Section notes_of(const ShopPage& page) { return bulleted("Notes", page.notes); }

// Beside the customer's page, which has no room to spare for what is seldom needed.
Section more_consent(const ShopPage&) {
  Form form;
  form.title = "Consent to more than the limit";
  form.sentences = {
      "Filled in before any work that would cost more than the limit, or that is not listed, is done."};
  form.blanks = {"Added parts and work", "New total, taxes included",     "Consent given by",
                 "On (date, time)",      "How (in person, phone number)", "Noted by"};
  return headed("The customer's consent", form);
}

// The first screen: what to charge, what it brings, what to order, what must be looked at.

std::string charge_line(const ShopChoice& choice, const Pen& pen) {
  std::string title = choice.title;
  if (!title.empty())
    title.front() = static_cast<char>(std::tolower(static_cast<unsigned char>(title.front())));
  return "charge " + pen.sum(choice.to_pay) + " (" + pen.sum(choice.income) + " without tax) for " + title +
         ".";
}

std::string margin_line(const ShopPage& page, const ShopChoice& choice, const Pen& pen) {
  std::string text = "Expected margin " + pen.sum(choice.margin);
  if (choice.margin_share) text += ", " + pen.percent(*choice.margin_share) + " of the income";
  text += "; chance of a loss " + pen.percent(choice.loss_chance) + ".";
  if (choice.lowest_price_total)
    text += " No expected loss from " + pen.sum(*choice.lowest_price_total) + " on";
  if (choice.lowest_price_total && choice.target_price_total)
    text += ", " + pen.percent(page.target_margin) + " margin from " + pen.sum(*choice.target_price_total) +
            " on";
  return text + (choice.lowest_price_total ? "." : "");
}

std::string order_line(const ShopChoice& choice, const Pen& pen) {
  if (choice.order.empty()) return "Nothing to order.";
  std::vector<std::string> items;
  for (const OrderRow& row : choice.order) {
    const bool own = row.supplier.empty();
    items.push_back(fmt::format("{} x {} from {}", row.pieces, row.item,
                                own ? "the drawer" : row.supplier + " (" + pen.sum(row.cost) + ")"));
  }
  std::string text = fmt::format("To order: {}.", fmt::join(items, "; "));
  if (items.size() == 1 || display_width(text) <= one_line_columns) return text;
  return fmt::format("To order: {}; and {} more (--show order).", items.front(), items.size() - 1);
}

std::string look_at_line(const ShopPage& page) {
  std::vector<std::string> points;
  const auto add = [&](std::size_t count, const std::string& words, const char* section) {
    if (count > 0) points.push_back(fmt::format("{} (--show {})", words, section));
  };
  std::vector<std::string> titles;
  for (const PageCaution& caution : page.cautions) titles.push_back(caution.title);
  add(titles.size(), fmt::format("{}", fmt::join(titles, ", ")), "hazards");
  add(page.defaults.size(), fmt::format("{} unset in the shop file", page.defaults.size()), "unset");
  add(page.notes.size(), count_text(static_cast<long long>(page.notes.size()), "note", "notes"), "notes");
  return points.empty() ? "" : fmt::format("Look at: {}.", fmt::join(points, "; "));
}

std::vector<DocumentBlock> answer_of(const ShopPage& page, const Pen& pen) {
  std::vector<DocumentBlock> lines;
  const auto say = [&](const std::string& text, bool strong = false) {
    if (!text.empty()) lines.emplace_back(Paragraph{text, strong});
  };
  if (const ShopChoice* choice = proposed_choice(page)) {
    say(page.device + ": " + charge_line(*choice, pen), true);
    say(margin_line(page, *choice, pen));
    say(order_line(*choice, pen));
  }
  say(page.owner_verdict);
  say(look_at_line(page));
  return lines;
}

Section choices_of(const ShopPage& page, bool narrow) {
  const Pen pen = pen_of(page);
  Section section{"The choices, in " + pen.currency()};
  Table table{.columns = {{"Choice", false}, {"Charge"}, {"Margin"}, {"Loss"}}, .name = "choices"};
  if (!narrow) table.columns.insert(table.columns.end(), {{"Owner saves"}, {"Time"}});
  for (std::size_t i = 0; i < page.choices.size(); ++i) {
    const ShopChoice& c = page.choices[i];
    const bool proposed = static_cast<int>(i) == page.proposed;
    std::vector<std::string> cells{c.title, pen.amount(c.to_pay), pen.amount(c.margin),
                                   pen.percent(c.loss_chance)};
    if (!narrow) {
      cells.push_back(c.owner_saving ? pen.amount(*c.owner_saving) : "-");
      cells.push_back(pen.time(c.minutes_p50, 0));
    }
    table.add(std::move(cells), proposed ? Table::Role::best : Table::Role::plain, proposed ? ">" : "");
  }
  section.add(std::move(table));
  return section;
}

Section short_moves(const ShopPage& page, bool narrow) {
  const Pen pen = pen_of(page);
  const ShopChoice* choice = proposed_choice(page);
  if (choice == nullptr || choice->moves.empty()) return {};
  Section section{"What moves the margin most, in " + pen.currency()};
  Table table{.columns = {{"Input", false}, {"Margin at low"}, {"Margin at high"}}, .name = "swings"};
  if (!narrow) table.columns.insert(table.columns.begin() + 1, {{"Low"}, {"High"}});
  const std::size_t most = narrow ? widest_moves_if_narrow : widest_moves;
  for (std::size_t i = 0; i < std::min(most, choice->moves.size()); ++i) {
    const MarginRow& row = choice->moves[i];
    std::vector<std::string> cells{row.label, pen.amount(row.margin_low), pen.amount(row.margin_high)};
    if (!narrow) cells.insert(cells.begin() + 1, {pen.input(row.low), pen.input(row.high)});
    table.add(std::move(cells));
  }
  section.add(std::move(table));
  return section;
}

Section short_risks(const ShopPage& page, const Pen& pen, bool narrow) {
  Section section;
  if (const ShopChoice* choice = proposed_choice(page)) {
    section.heading = "On the bench";
    section.say("Time " + pen.time(choice->minutes_p50, 0) + ", in 8 of 10 jobs " +
                pen.time(choice->minutes_p10, 0) + " to " + pen.time(choice->minutes_p90, 0) +
                ". By time the charge would pass the consent limit of " + pen.sum(choice->consent_limit) +
                " in " + pen.percent(choice->over_limit_chance) + " of the jobs.");
  }
  if (page.diagnosis) {
    const DiagnosisAnswer& d = *page.diagnosis;
    section.say("Diagnosis: " + (d.fee > 0 ? "fee " + pen.sum(d.fee) : "no fee") + ", costs " +
                pen.sum(d.cost) + (narrow ? "" : "; customers who walk away: " + share_text(d, pen)) +
                "; a device brought in brings " + pen.sum(d.income_per_intake) + ".");
  }
  return section;
}

constexpr SectionOf<ShopPage> sections_of_shop[] = {
    {"choices", [](const ShopPage& p) { return choices_of(p, false); }},
    {"order", [](const ShopPage& p) { return tabled("What to order", order_table(p, pen_of(p))); }},
    {"income", [](const ShopPage& p) { return tabled("Income and cost", income_table(p, pen_of(p))); }},
    {"margin", [](const ShopPage& p) { return tabled("Margin", margin_table(p, pen_of(p))); }},
    {"prices", prices_of},
    {"time", [](const ShopPage& p) { return tabled("Time", time_table(p, pen_of(p))); }},
    {"limit", [](const ShopPage& p) { return tabled("Consent limit", ceiling_table(p, pen_of(p))); }},
    {"warranty", [](const ShopPage& p) { return tabled("Warranty", reserve_table(p, pen_of(p))); }},
    {"sensitivity", moves_of},
    {"what-if",
     [](const ShopPage& p) { return p.what_ifs.empty() ? Section{} : shop_what_ifs(p, pen_of(p)); }},
    {"diagnosis", diagnosis_of},
    {"hazards", hazards_of},
    {"unset", unset_of},
    {"notes", notes_of},
    {"basis", basis_of},
    {"consent", more_consent}};

}  // namespace

const std::vector<std::string>& shop_sections() { return section_names<sections_of_shop>(); }

Document shop_sheet(const ShopPage& page, int width) {
  const Pen pen = pen_of(page);
  Document sheet;
  sheet.answer = true;
  sheet.title = "Quote at cost";
  sheet.name = sheet_name(sheet.title, page.number, page.device);
  sheet.mark = "For the shop only";
  sheet.opening = answer_of(page, pen);
  const bool narrow = width < narrow_columns;
  sheet.first_screen = {choices_of(page, narrow), short_moves(page, narrow), short_risks(page, pen, narrow)};
  sheet.sections = sections_of(page, sections_of_shop);
  return sheet;
}

}  // namespace mendworth
