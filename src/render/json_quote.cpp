#include "render/json_quote.hpp"

#include <string>

#include "mendworth/render.hpp"

// The schema beside this file says what each key means. Nothing but the CustomerPage comes in here.
namespace mendworth {
namespace {

const char* unit_word(BillLine::Unit unit) {
  switch (unit) {
    case BillLine::Unit::none: return "none";
    case BillLine::Unit::hours: return "hours";
    case BillLine::Unit::pieces: return "pieces";
  }
  return "";
}

Json maybe_text(const std::optional<std::string>& text) { return text ? Json(*text) : Json(nullptr); }

class CustomerJson {
 public:
  explicit CustomerJson(const CustomerPage& page) : page_(page) {}

  [[nodiscard]] Json json() const {
    const bool invoice = page_.document == CustomerPage::Document::decline_invoice;
    Json choices = Json::array(), alternatives = Json::array();
    for (const CustomerChoice& choice : page_.choices) choices.push_back(choice_json(choice));
    for (const CustomerAlternative& other : page_.alternatives) {
      alternatives.push_back({{"name", other.name}, {"price", maybe(other.price)}, {"days", other.days}});
    }
    return {{"schema", "mendworth.quote"},
            {"version", 2},
            {"document", invoice ? "decline_invoice" : "quote"},
            {"draft", !page_.number.has_value()},
            {"number", maybe_text(page_.number)},
            {"date", iso_date(page_.date)},
            {"valid_until", page_.valid_until ? iso_date(*page_.valid_until) : Json(nullptr)},
            {"currency", currency_json(page_.currency)},
            {"letterhead", page_.letterhead},
            {"customer", page_.customer},
            {"device", page_.device},
            {"serial", maybe_text(page_.serial)},
            {"condition", maybe_text(page_.condition)},
            {"fault", page_.fault},
            {"not_included", page_.not_included},
            {"advice", page_.advice},
            {"worth_repairing", page_.worth_repairing},
            {"choices", choices},
            {"alternatives", alternatives},
            {"invoice", page_.invoice ? bill_json(*page_.invoice) : Json(nullptr)},
            {"decline", page_.decline ? bill_json(*page_.decline) : Json(nullptr)},
            {"warranty", page_.warranty},
            {"diagnosis", page_.diagnosis},
            {"consent", page_.consent},
            {"if_not_repaired", page_.if_not_repaired},
            {"risk", page_.risk},
            {"terms", page_.terms},
            {"accessories", page_.accessories},
            {"data", page_.data},
            {"safe_return", page_.safe_return}};
  }

 private:
  [[nodiscard]] Json sum(Money money) const { return sum_json(money, page_.currency, page_.style); }
  [[nodiscard]] Json maybe(const std::optional<Money>& money) const {
    return money ? sum(*money) : Json(nullptr);
  }

  [[nodiscard]] Json bill_json(const Bill& bill) const {
    Json lines = Json::array(), taxes = Json::array();
    for (const BillLine& line : bill.lines) {
      lines.push_back({{"kind", name_of(line.kind)},
                       {"text", line.text},
                       {"unit", unit_word(line.unit)},
                       {"quantity", number(line.quantity)},
                       {"each", maybe(line.each)},
                       {"amount", sum(line.amount)}});
    }
    for (const BillTax& tax : bill.taxes) {
      taxes.push_back({{"name", tax.name},
                       {"rate_share", number(tax.rate)},
                       {"included", tax.included},
                       {"compound", tax.compound},
                       {"taxable", sum(tax.taxable)},
                       {"amount", sum(tax.amount)}});
    }
    return {{"lines", lines},
            {"subtotal", sum(bill.subtotal)},
            {"taxes", taxes},
            {"total", sum(bill.total)},
            {"included_tax", sum(bill.included_tax)},
            {"subsidy_name", maybe_text(bill.subsidy_name)},
            {"subsidy", sum(bill.subsidy)},
            {"paid", sum(bill.paid)},
            {"cash_rounding", sum(bill.cash_rounding)},
            {"payable", sum(bill.payable)},
            {"deposit", maybe(bill.deposit)}};
  }

  [[nodiscard]] Json choice_json(const CustomerChoice& choice) const {
    return {{"kind", kind_word(choice.kind)},
            {"title", choice.title},
            {"recommended", choice.recommended},
            {"work", choice.work},
            {"why", choice.why},
            {"days_low", choice.days_low},
            {"days_high", choice.days_high},
            {"consent_limit", sum(choice.consent_limit)},
            {"bill", bill_json(choice.bill)}};
  }

  const CustomerPage& page_;
};

}  // namespace

std::string customer_json(const CustomerPage& page) { return CustomerJson(page).json().text(); }

}  // namespace mendworth
