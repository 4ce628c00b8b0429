#include "render/json_quote.hpp"

#include <string>

#include "mendworth/render.hpp"

// Nothing but the CustomerPage comes in here.
namespace mendworth {

const char* name_of(CustomerChoice::Kind kind) {
  switch (kind) {
    case CustomerChoice::Kind::failed_only: return "failed_only";
    case CustomerChoice::Kind::with_mates: return "with_mates";
    case CustomerChoice::Kind::every_original: return "every_original";
  }
  return "";
}

static const char* name_of(BillLine::Unit unit) {
  switch (unit) {
    case BillLine::Unit::none: return "none";
    case BillLine::Unit::hours: return "hours";
    case BillLine::Unit::pieces: return "pieces";
  }
  return "";
}

static const char* name_of(CustomerPage::Document document) {
  switch (document) {
    case CustomerPage::Document::quote: return "quote";
    case CustomerPage::Document::decline_invoice: return "decline_invoice";
  }
  return "";
}

template <>
Shape<Money>::Shape() : MemberTable("sum") {
  has({
      {"minor", &R::minor, "whole minor units of the currency at the top: cents, yen, fils", any_number},
      {"text",
       [](const R& sum, const SumStyle& style) { return written(sum, style.currency, style.numbers); },
       "the same sum as the pages print it"},
  });
}

template <>
Shape<Currency>::Shape() : MemberTable("currency") {
  has({
      {"code", &R::code, "ISO 4217"},
      {"minor_digits", &R::minor_digits, "digits after the point that a minor unit stands for, ISO 4217",
       between(0, 4)},
  });
}

template <>
Shape<BillLine>::Shape() : MemberTable("line") {
  has({
      {"kind", &R::kind},
      {"text", &R::text},
      {"unit", &R::unit, "of the quantity; none: a sum"},
      {"quantity", &R::quantity, "hours or pieces, exactly what is charged"},
      {"each", &R::each},
      {"amount", &R::amount},
  });
}

template <>
Shape<BillTax>::Shape() : MemberTable("tax") {
  has({
      {"name", &R::name},
      {"rate_share", &R::rate, "0.2 is 20 %"},
      {"included", &R::included, "the amounts hold it already; it does not add to the total"},
      {"compound", &R::compound, "on the amounts and on the taxes before it"},
      {"taxable", &R::taxable},
      {"amount", &R::amount},
  });
}

template <>
Shape<Bill>::Shape() : MemberTable("bill") {
  has({
      {"lines", &R::lines},
      {"subtotal", &R::subtotal, "of the lines"},
      {"taxes", &R::taxes, "in the order in which they build on each other"},
      {"total", &R::total, "with the taxes that are not included"},
      {"included_tax", &R::included_tax, "the part of the total that is tax the prices hold"},
      {"subsidy_name", &R::subsidy_name, "who pays a part; null: nobody"},
      {"subsidy", &R::subsidy, "taken off the total"},
      {"paid", &R::paid, "already; taken off the total"},
      {"cash_rounding", &R::cash_rounding, "either sign"},
      {"payable", &R::payable, "total - subsidy - paid + cash_rounding"},
      {"deposit", &R::deposit, "paid with the order"},
  });
}

template <>
Shape<CustomerChoice>::Shape() : MemberTable("choice") {
  has({
      {"kind", &R::kind, "failed parts only; with the mates of the same part; every original part"},
      {"title", &R::title},
      {"recommended", &R::recommended},
      {"work", &R::work, "what is done, a sentence each"},
      {"why", &R::why, "for whom it is right"},
      {"days_low", &R::days_low, "until it is ready, counted from the order"},
      {"days_high", &R::days_high, "the longest"},
      {"consent_limit", &R::consent_limit,
       "no more is to pay without asking, after all that payable is after"},
      {"bill", &R::bill},
  });
}

template <>
Shape<CustomerAlternative>::Shape() : MemberTable("alternative") {
  has({
      {"name", &R::name},
      {"price", &R::price, "with tax and shipping; null: not known"},
      {"days", &R::days, "of delivery; 0: at once"},
  });
}

template <>
Shape<CustomerPage>::Shape() {
  has({
      {"document", &R::document, "decline_invoice: what is charged after a declined repair"},
      {"draft", [](const R& page) { return !page.number; }, "the page has no number and is no record"},
      {"number", &R::number, "of the record; null: a draft"},
      {"date", &R::date},
      {"valid_until", &R::valid_until},
      {"currency", &R::currency},
      {"letterhead", &R::letterhead, "lines"},
      {"customer", &R::customer, "lines"},
      {"device", &R::device},
      {"serial", &R::serial, "null: not stated"},
      {"condition", &R::condition, "on arrival; null: not stated"},
      {"fault", &R::fault, "as found"},
      {"not_included", &R::not_included, "what will not be done"},
      {"advice", &R::advice,
       "which choice, or that a repair is not worth it; on an invoice, why it is not repaired here"},
      {"worth_repairing", &R::worth_repairing},
      {"choices", &R::choices, "empty on an invoice"},
      {"alternatives", &R::alternatives, "what the customer could buy instead"},
      {"invoice", &R::invoice},
      {"decline", &R::decline, "what is charged if nothing is repaired; null on an invoice"},
      {"warranty", &R::warranty, "sentence; empty: the shop states none"},
      {"diagnosis", &R::diagnosis, "sentence on the fee; may be empty"},
      {"consent", &R::consent, "sentence on the limit; empty: the price is the limit"},
      {"if_not_repaired", &R::if_not_repaired, "sentence: what is charged then"},
      {"risk", &R::risk, "sentence: what may break, and who bears it"},
      {"terms", &R::terms, "of the shop"},
      {"accessories", &R::accessories, "left with the device"},
      {"data", &R::data, "sentence: what to save before the device is handed in; empty on an invoice"},
      {"safe_return", &R::safe_return, "sentence: how the device goes back; empty on an invoice"},
  });
}

constexpr AnswerOf<CustomerPage> customer_form{
    {.schema = "mendworth.quote",
     .version = 2,
     .meaning =
         "What 'mendworth quote CASE --format json' prints: the page for the customer, and nothing that the "
         "page does not show. Sums are whole minor units with a text of the same sum; lines add up to the "
         "subtotal, the subtotal and the taxes that are not included to the total.",
     .names_program = false}};

std::string customer_json(const CustomerPage& page) {
  return customer_form.json(page, {page.currency, page.style}).text();
}

const std::string& quote_schema() { return customer_form.json_schema(); }

}  // namespace mendworth
