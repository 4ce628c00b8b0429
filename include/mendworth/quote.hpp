#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "mendworth/case.hpp"
#include "mendworth/money.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/shop.hpp"

/// A price for a customer: the page that the customer gets, and the same job as the shop sees it. The two are types
/// of their own: what renders a CustomerPage has no cost, margin or chance at hand that could show.
namespace mendworth {

// ---- What the customer sees -------------------------------------------------------------------------------------

/// One line of a bill.
struct BillLine {
  enum class Unit { none, hours, pieces };
  LineKind kind = LineKind::labour;
  std::string text{};
  Unit unit = Unit::none;
  double quantity = 1;          ///< hours or pieces; exactly what is charged
  std::optional<Money> each{};  ///< rate or price of a piece; absent for a sum
  Money amount;                 ///< pieces * each exactly; everything else rounded once
  /// Of a discount: what it takes off the lines of each kind. It bears the taxes that these bear, so that a tax is
  /// never on a discount of what it is not on. The parts add up to `amount`.
  struct Part {
    LineKind kind = LineKind::labour;
    Money amount;
  };
  std::vector<Part> parts{};
};

struct BillTax {
  std::string name{};
  double rate = 0;
  bool included = false;
  bool compound = false;
  Money taxable;  ///< what the rate is applied to, rounded for show
  Money amount;
};

/// Lines and what follows from them; each sum is that of printed amounts.
struct Bill {
  std::vector<BillLine> lines{};
  Money subtotal;                ///< of the lines
  std::vector<BillTax> taxes{};  ///< those not included add to the total
  Money total;
  Money included_tax;  ///< sum of the taxes that the subtotal holds
  std::optional<std::string> subsidy_name{};
  Money subsidy;        ///< >= 0, taken off the total
  Money paid;           ///< >= 0, before this bill; taken off too
  Money cash_rounding;  ///< added, either sign
  Money payable;        ///< total - subsidy - paid + cash rounding; negative: is given back
  std::optional<Money> deposit{};
};

/// One way to repair, as the customer may choose it.
struct CustomerChoice {
  enum class Kind { failed_only, with_mates, every_original };
  Kind kind = Kind::failed_only;
  std::string title{};              ///< "Failed part only"
  std::vector<std::string> work{};  ///< what is done, a sentence each
  std::string why{};                ///< in plain words, for whom it is right
  Bill bill;
  Money consent_limit;  ///< no more is to pay without asking: after all that `Bill::payable` is after
  int days_low = 0, days_high = 0;  ///< until it is ready, counted from the order
  bool recommended = false;
};

/// What the customer could do instead.
struct CustomerAlternative {
  std::string name{};            ///< of the replacement
  std::optional<Money> price{};  ///< with tax and shipping; absent: not known
  int days = 0;                  ///< delivery, 0: at once
};

struct CustomerPage {
  enum class Document { quote, decline_invoice };
  Document document = Document::quote;
  Currency currency;
  NumberStyle style;
  std::vector<std::string> letterhead{};
  std::optional<std::string> number{};  ///< absent: a draft, no record
  Date date{};
  std::optional<Date> valid_until{};    ///< absent on an invoice
  std::vector<std::string> customer{};  ///< lines
  std::string device{};
  std::optional<std::string> serial{}, condition{};
  std::string fault{};                      ///< as found, a sentence
  std::vector<std::string> not_included{};  ///< what will not be done
  std::string
      advice{};  ///< which choice, or that a repair is not worth it; on an invoice, why it is not repaired here
  bool worth_repairing = true;
  std::vector<CustomerChoice> choices{};  ///< empty on an invoice
  std::vector<CustomerAlternative> alternatives{};
  std::optional<Bill> invoice{};           ///< when declined
  std::optional<Bill> decline{};           ///< what is charged if nothing is repaired; absent on an invoice
  std::string warranty{};                  ///< sentence; empty: the shop states none
  std::string diagnosis{};                 ///< sentence on the fee; may be empty
  std::string consent{};                   ///< sentence on the limit; empty: the price is the limit
  std::string if_not_repaired{};           ///< sentence: what is charged then
  std::string risk{};                      ///< sentence: what may break, who bears it
  std::vector<std::string> terms{};        ///< the shop's own
  std::vector<std::string> accessories{};  ///< left with the device
  std::string data{}, safe_return{};       ///< sentences: what to see to oneself; empty on an invoice
};

// ---- What only the shop sees ------------------------------------------------------------------------------------

struct PageCaution {
  std::string title{};
  std::vector<std::string> sentences{};
};

/// Expected costs of a job to the shop, in the case's currency, without the taxes that pass through.
struct JobCost {
  double labour = 0;  ///< as planned
  double order = 0;   ///< landed
  double consumables = 0;
  double stock = 0;      ///< worth of parts in the drawer before, less after: negative where leftovers gain
  double rework = 0;     ///< bad luck on the bench: labour, pieces, money, a second attempt
  double warranty = 0;   ///< returns of new pieces within the warranty
  double come_back = 0;  ///< returns of the work within the warranty
  double liability = 0;  ///< devices lost on the bench
  [[nodiscard]] double total() const noexcept {
    return labour + order + consumables + stock + rework + warranty + come_back + liability;
  }
};

/// What a warranty of so many days would cost.
struct ReserveRow {
  int days = 0;
  double returns = 0;        ///< expected, of new pieces
  double reserve = 0;        ///< expected cost of these and of complaints of the work, per job taken on
  double mates_failing = 0;  ///< expected failures of old mates in that time, not covered
  bool offered = false;
};

struct CeilingRow {
  double confidence = 0;  ///< share of repaired jobs whose charge by time stays within
  Money charge;           ///< as `Bill::payable`
  bool chosen = false;
};

struct MarginRow {
  std::string key{}, label{};
  double low = 0, base = 0, high = 0;
  double margin_low = 0, margin_high = 0;
  double swing = 0;
  bool uncertain = false;  ///< a range; else the ends are -20 % and +20 %
};

/// Pieces of one thing that a job takes from the drawer, or that its order brings.
struct OrderRow {
  std::string supplier{};  ///< empty: the shop's own drawer
  std::string item{};      ///< name of the candidate
  int pieces = 0;
  double cost = 0;  ///< goods with the tax on them, without shipping; 0 from the drawer
};

/// One choice at cost.
struct ShopChoice {
  CustomerChoice::Kind kind = CustomerChoice::Kind::failed_only;
  std::string title{};
  double cure_chance = 0;
  double lost_chance = 0;
  Money to_pay, consent_limit;  ///< as on the customer's page
  Money income;                 ///< if it is repaired, without tax
  double no_cure_income = 0;    ///< if not, without tax
  double expected_income = 0;
  JobCost cost;
  double margin = 0;                     ///< expected: expected_income - cost.total()
  double margin_error = 0;               ///< one standard error of the simulation
  std::optional<double> margin_share{};  ///< of the expected income; absent where that is 0
  double loss_chance = 0;
  double margin_p10 = 0, margin_p50 = 0, margin_p90 = 0;
  double minutes_planned = 0, minutes_p10 = 0, minutes_p50 = 0, minutes_p90 = 0;
  std::optional<Money> lowest_price{};        ///< without tax: no expected loss; absent: never cured
  std::optional<Money> lowest_price_total{};  ///< the same as the customer would read it
  std::optional<Money> target_price{}, target_price_total{};
  std::optional<Money> no_fee_price,
      no_fee_price_total;  ///< for the target margin if nothing is charged without a cure
  std::vector<ReserveRow> reserves{};
  std::vector<OrderRow> order{};
  int leftover_pieces = 0;  ///< that the order leaves if all goes well
  double leftover_value = 0;
  std::vector<CeilingRow> ceilings{};
  double overrun_chance = 0;             ///< that the charge by time is above the quoted sum to pay
  double over_limit_chance = 0;          ///< that it is above the consent limit
  std::optional<double> owner_saving{};  ///< of the owner against the best alternative, while the need lasts
  std::optional<double> owner_saving_with_subsidy{};
  std::vector<MarginRow> moves{};  ///< widest first; of the proposed choice only
};

/// A diagnosis that the customer may walk away from.
struct DiagnosisAnswer {
  double fee = 0;  ///< without tax
  bool credited = true;
  double cost = 0;  ///< of the time on the bench
  double walk_away_low = 0, walk_away = 0, walk_away_high = 0;
  bool walk_away_known = false;            ///< else a share of 0 to 0.5 is looked at
  double income_per_intake = 0;            ///< expected margin of one device brought in
  double income_low = 0, income_high = 0;  ///< at the ends of the share
  std::optional<double>
      break_even_fee{};  ///< of no expected loss per intake, without tax; absent: none is enough
  std::optional<double> turning_share{};  ///< share of walk-aways at which an intake earns nothing
};

struct ShopWhatIf;

struct ShopPage {
  std::string source_name{}, shop_source{};
  Currency currency;
  NumberStyle style;
  std::optional<std::string> number{};
  Date date{};
  std::string device{};
  std::uint64_t seed = 1;
  int futures = 0;
  double charge_rate = 0, cost_rate = 0;
  double target_margin = 0;
  int warranty_days = 0;
  double horizon_years = 0;
  std::string owner_verdict{};        ///< sentence: what the repair is worth to the owner at this price
  std::vector<ShopChoice> choices{};  ///< in the order of the customer page
  int proposed = 0;                   ///< index of the recommended one
  std::optional<DiagnosisAnswer> diagnosis{};
  std::vector<PageCaution> cautions{};
  std::vector<std::string>
      defaults{};  ///< sentences: what the shop file leaves out, and what is taken instead
  std::vector<std::string> notes{};
  std::vector<ShopWhatIf> what_ifs;  ///< of the case
};

/// The same job under a what-if of the case: its page, as it would be alone, or why it must not be quoted.
struct ShopWhatIf {
  std::string name;
  std::vector<Change> changes;
  std::optional<ShopPage> page;
  std::string refused;  ///< a sentence; empty: it is not
};

struct Quote {
  CustomerPage customer;
  std::optional<ShopPage> shop{};      ///< absent for a decline invoice, and where it is not asked for
  std::vector<std::string> remarks{};  ///< sentences for the shop: what to look at before the page goes out
};

/// Why a job must not be quoted as it stands.
struct Refusal {
  enum class Reason {
    owner_loses,
    guarantee_live,
    not_licensed
  };  ///< an invoice for a diagnosis is never refused
  Reason reason = Reason::owner_loses;
  std::vector<std::string> sentences{};  ///< the first says it all
};

struct QuoteSettings {
  std::uint64_t seed = 1;
  int futures = 0;  ///< as in WeighSettings
  int threads = 0;  ///< 0: as many as the machine has; never changes an answer
  Date date{};      ///< of the quote
  std::optional<std::string> number{};
  std::optional<CustomerChoice::Kind>
      choice{};                     ///< the proposed one; absent: that of the least cost to the owner
  std::optional<double> ceiling{};  ///< confidence in place of the shop's, 0.5..0.999
  bool rush = false, collection = false;
  bool parts_from_customer = false;  ///< no line for parts, no warranty on them
  bool shop_page = true;             ///< false: nothing of the shop's side is worked out
  bool despite_owner_loss = false;   ///< quote although the owner loses by it; said on the page
  struct Declined {
    std::optional<double> minutes{};  ///< spent in all, the diagnosis included; absent: no more than that
  };
  std::optional<Declined> declined{};  ///< an invoice instead of a quote
};

struct QuoteResult {
  std::optional<Quote> quote{};
  std::optional<Refusal> refusal{};  ///< exactly one of the two
};

/// Quotes a case. `rates` are the rates before the shop's licences (see rates_for), and `c` was read under
/// rates_for(shop, rates). Deterministic in its arguments. Throws InputError where case and shop contradict each other
/// (another currency), std::invalid_argument if a setting is out of range.
[[nodiscard]] QuoteResult quote(const Case& c, const Shop& shop, const RateBook& rates,
                                const QuoteSettings& settings);

}  // namespace mendworth
