#include "render/customer_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace mendworth {

namespace {

bool is_invoice(const CustomerPage& page) { return page.document == CustomerPage::Document::decline_invoice; }

std::string title_of(const CustomerPage& page) {
  if (!is_invoice(page)) return "Quote";
  return page.advice.empty() ? "Invoice after a declined repair" : "Invoice for a diagnosis";
}

std::string joined(const std::vector<std::string>& sentences) {
  return fmt::format("{}", fmt::join(sentences, " "));
}

void add_section(Document& sheet, Section section) {
  if (!section.empty()) sheet.sections.push_back(std::move(section));
}

void opening(Document& sheet, const CustomerPage& page, const Pen& pen) {
  Facts document;
  document.add("Number", page.number.value_or("none"));
  document.add("Date", pen.day(page.date));
  if (page.valid_until) document.add("Valid until", pen.day(*page.valid_until));
  sheet.opening.emplace_back(document);
  Facts customer;
  customer.add("Customer", page.customer);
  if (!customer.facts.empty()) sheet.opening.emplace_back(customer);
}

Section device_section(const CustomerPage& page) {
  Facts facts;
  facts.add("Device", page.device);
  facts.add("Serial number", page.serial.value_or(""));
  facts.add("Condition", page.condition.value_or(""));
  facts.add("Fault as found", page.fault);
  facts.add("Not included", page.not_included);
  facts.add("Left with it", page.accessories);
  return headed("The device", facts);
}

bool any_choice(const CustomerPage& page, bool (*holds)(const CustomerChoice&)) {
  return std::ranges::any_of(page.choices, holds);
}

std::string marked_title(const CustomerChoice& choice) {
  return choice.recommended ? choice.title + " (recommended)" : choice.title;
}

std::string delivery_text(const CustomerAlternative& other) {
  return other.days > 0 ? day_range(other.days, other.days) : "at once";
}

// The replacement that costs least, of those with a price; null if there is none.
const CustomerAlternative* cheapest_replacement(const CustomerPage& page) {
  const CustomerAlternative* cheapest = nullptr;
  for (const CustomerAlternative& other : page.alternatives) {
    if (other.price && (cheapest == nullptr || *other.price < *cheapest->price)) cheapest = &other;
  }
  return cheapest;
}

// A column for each choice and one for doing without, a row for each thing that one would compare.
Table comparison(const CustomerPage& page, const Pen& pen) {
  Table table;
  table.caption = "The choices side by side";
  table.columns.push_back({"Choice", false});
  table.compares_columns = true;
  for (const CustomerChoice& choice : page.choices) {
    if (choice.recommended) table.marked_column = table.columns.size();
    table.columns.push_back({marked_title(choice), false});
  }
  const CustomerAlternative* instead = cheapest_replacement(page);
  if (instead != nullptr) table.columns.push_back({"No repair: " + instead->name, false});
  const auto row = [&](const std::string& label, const auto& text_of, const std::string& of_instead = "-") {
    Table::Row out{{label}};
    for (const CustomerChoice& choice : page.choices) out.cells.push_back(text_of(choice));
    if (instead != nullptr) out.cells.push_back(of_instead);
    table.rows.push_back(std::move(out));
  };
  row(
      "What is done", [](const CustomerChoice& c) { return joined(c.work); },
      "The device is not repaired; another one is bought.");
  row(
      "Ready in", [](const CustomerChoice& c) { return day_range(c.days_low, c.days_high); },
      instead == nullptr ? "" : delivery_text(*instead));
  row(
      "Total", [&](const CustomerChoice& c) { return pen.sum(c.bill.total); },
      instead == nullptr ? "" : pen.sum(*instead->price));
  if (any_choice(page, [](const CustomerChoice& c) { return c.bill.payable != c.bill.total; }))
    row("To pay", [&](const CustomerChoice& c) { return pen.sum(c.bill.payable); });
  if (!page.consent.empty())
    row("Consent limit", [&](const CustomerChoice& c) { return pen.sum(c.consent_limit); });
  if (any_choice(page, [](const CustomerChoice& c) { return c.bill.deposit.has_value(); })) {
    row("Deposit", [&](const CustomerChoice& c) {
      return c.bill.deposit ? pen.sum(*c.bill.deposit) : std::string("none");
    });
  }
  return table;
}

Table replacements(const CustomerPage& page, const Pen& pen) {
  Table table{.caption = "What a replacement costs, taxes and shipping included",
              .columns = {{"Replacement", false}, {"Delivered in", false}, {"Price"}}};
  for (const CustomerAlternative& other : page.alternatives) {
    table.rows.push_back(
        {{other.name, delivery_text(other), other.price ? pen.sum(*other.price) : "not known"}});
  }
  return table;
}

Section advice_section(const CustomerPage& page, const Pen& pen) {
  Section section{page.worth_repairing ? "Our advice" : "Not worth repairing"};
  if (!page.advice.empty()) {
    section.blocks.emplace_back(Notice{page.advice});
  } else if (!page.worth_repairing) {
    section.blocks.emplace_back(Notice{"The repair costs more than it is worth."});
  }
  if (!page.worth_repairing && !page.alternatives.empty())
    section.blocks.emplace_back(replacements(page, pen));
  return section;
}

std::vector<std::string> instead_lines(const CustomerPage& page, const Pen& pen) {
  std::vector<std::string> lines;
  for (const CustomerAlternative& other : page.alternatives) {
    lines.push_back(other.name + ": " + (other.price ? pen.sum(*other.price) : "price not known") + ", " +
                    delivery_text(other));
  }
  return lines;
}

// What the comparison would say, of the one choice that there is: short, so that it may fit one page.
Section only_choice(const CustomerPage& page, const Pen& pen) {
  const CustomerChoice& choice = page.choices.front();
  Facts facts;
  facts.add("What is done", joined(choice.work));
  facts.add("Why", choice.why);
  facts.add("Ready in", day_range(choice.days_low, choice.days_high));
  if (!page.consent.empty()) facts.add("Consent limit", pen.sum(choice.consent_limit));
  if (page.worth_repairing) facts.add("Instead of a repair", instead_lines(page, pen));
  return {marked_title(choice), {facts, bill_table(choice.bill, pen, "Bill: " + choice.title)}};
}

Section choices_section(const CustomerPage& page, const Pen& pen) {
  if (page.choices.size() == 1) return only_choice(page, pen);
  Section section{"Your choices"};
  if (page.choices.empty()) return section;
  section.blocks.emplace_back(comparison(page, pen));
  for (const CustomerChoice& choice : page.choices) {
    Section part{marked_title(choice)};
    if (!choice.why.empty()) part.blocks.emplace_back(Paragraph{choice.why});
    part.blocks.emplace_back(bill_table(choice.bill, pen, "Bill: " + choice.title));
    section.parts.push_back(std::move(part));
  }
  return section;
}

Section conditions_section(const CustomerPage& page) {
  Facts facts;
  facts.add("Warranty", page.warranty);
  facts.add("Diagnosis", page.diagnosis);
  facts.add("Consent limit", page.consent);
  facts.add("If it cannot be repaired", page.if_not_repaired);
  facts.add("Risk", page.risk);
  facts.add("Your data", page.data);
  facts.add("Safe return", page.safe_return);
  facts.add("Terms of the shop", page.terms);
  return facts.facts.empty() ? Section{} : headed("What applies", facts);
}

// The price beside the box, and what of it is paid already.
std::string decline_text(const Bill& bill, const Pen& pen) {
  if (bill.payable.minor < 0)
    return ": " + pen.sum(bill.total) + " in all, so " + pen.sum(-bill.payable) + " is given back";
  if (bill.payable.minor > 0) return ": " + pen.sum(bill.payable);
  return bill.paid.minor > 0 ? ": nothing more to pay" : ": nothing to pay";
}

Form order_form(const CustomerPage& page, const Pen& pen) {
  Form form;
  form.title = "Order";
  form.sentences = {"Please tick one box."};
  for (const CustomerChoice& choice : page.choices) {
    std::string tick = choice.title + ": " + pen.sum(choice.bill.payable);
    if (!page.consent.empty())
      tick += ", and no more than " + pen.sum(choice.consent_limit) + " without my consent";
    form.ticks.push_back(std::move(tick));
  }
  form.ticks.push_back("No repair, the device goes back as it is" +
                       (page.decline ? decline_text(*page.decline, pen) : ""));
  form.blanks = {"Name", "Date", "Signature of the customer"};
  return form;
}

Section invoice_section(const CustomerPage& page, const Pen& pen) {
  Section section{"What is charged"};
  if (!page.advice.empty()) section.blocks.emplace_back(Notice{page.advice});
  if (page.invoice) section.blocks.emplace_back(bill_table(*page.invoice, pen, "Invoice"));
  return section;
}

Section receipt_section() {
  Form form;
  form.title = "Paid and handed back";
  form.sentences = {"The device was handed back without a repair."};
  form.blanks = {"Sum received", "Date", "Signature of the shop", "Signature of the customer"};
  return headed("Receipt", form);
}

}  // namespace

Document customer_sheet(const CustomerPage& page) {
  const Pen pen(page.currency, page.style);
  Document sheet;
  sheet.title = title_of(page);
  sheet.name = sheet_name(sheet.title, page.number, page.device);
  if (!page.number) sheet.mark = "Draft, not a record";
  sheet.letterhead = page.letterhead;
  opening(sheet, page, pen);
  add_section(sheet, device_section(page));
  if (is_invoice(page)) {
    add_section(sheet, invoice_section(page, pen));
  } else {
    add_section(sheet, advice_section(page, pen));
    add_section(sheet, choices_section(page, pen));
    if (page.worth_repairing && !page.alternatives.empty() && page.choices.size() != 1)
      add_section(sheet, headed("Instead of a repair", replacements(page, pen)));
  }
  add_section(sheet, conditions_section(page));
  add_section(sheet, is_invoice(page) ? receipt_section() : headed("Your decision", order_form(page, pen)));
  return sheet;
}

}  // namespace mendworth
