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
  /// What `quantity` counts; none: the line is a sum.
  enum class Unit { none, hours, pieces };
  LineKind kind = LineKind::labour;  ///< tells taxes and discounts apart
  std::string text{};                ///< as the customer reads it
  Unit unit = Unit::none;            ///< of `quantity`
  double quantity = 1;               ///< hours or pieces; exactly what is charged
  std::optional<Money> each{};       ///< rate or price of a piece; absent for a sum
  Money amount;                      ///< pieces * each exactly; everything else rounded once
  /// Of a discount: what it takes off the lines of each kind. It bears the taxes that these bear, so that a tax is
  /// never on a discount of what it is not on. The parts add up to `amount`.
  struct Part {
    LineKind kind = LineKind::labour;  ///< that it is taken off
    Money amount;                      ///< negative, as the discount is
  };
  std::vector<Part> parts{};  ///< of a discount alone
};

/// One tax on a bill.
struct BillTax {
  std::string name{};     ///< as the shop file names it
  double rate = 0;        ///< share, 0..1
  bool included = false;  ///< the lines hold it already
  bool compound = false;  ///< on the taxes before it as well
  Money taxable;          ///< what the rate is applied to, rounded for show
  Money amount;           ///< rounded; what the bill adds, or holds if included
};

/// Lines and what follows from them; each sum is that of printed amounts.
struct Bill {
  std::vector<BillLine> lines{};              ///< in the order of LineKind as far as they are charged
  Money subtotal;                             ///< of the lines
  std::vector<BillTax> taxes{};               ///< those not included add to the total
  Money total;                                ///< with the taxes that are not included
  Money included_tax;                         ///< sum of the taxes that the subtotal holds
  std::optional<std::string> subsidy_name{};  ///< absent: none
  Money subsidy;                              ///< >= 0, taken off the total
  Money paid;                                 ///< >= 0, before this bill; taken off too
  Money cash_rounding;                        ///< added, either sign
  Money payable;                   ///< total - subsidy - paid + cash rounding; negative: is given back
  std::optional<Money> deposit{};  ///< to pay before work begins; absent: none is asked
};

/// One way to repair, as the customer may choose it.
struct CustomerChoice {
  /// What is renewed: the failed pieces, those mates as well that are worth it, all originals of the failed parts.
  enum class Kind { failed_only, with_mates, every_original };
  Kind kind = Kind::failed_only;    ///< what is renewed
  std::string title{};              ///< "Failed part only"
  std::vector<std::string> work{};  ///< what is done, a sentence each
  std::string why{};                ///< in plain words, for whom it is right
  Bill bill;                        ///< if this is chosen
  Money consent_limit;       ///< no more is to pay without asking: after all that `Bill::payable` is after
  int days_low = 0;          ///< the least number of days until it is ready, counted from the order
  int days_high = 0;         ///< the greatest
  bool recommended = false;  ///< at most one
};

/// What the customer could do instead.
struct CustomerAlternative {
  std::string name{};            ///< of the replacement
  std::optional<Money> price{};  ///< with tax and shipping; absent: not known
  int days = 0;                  ///< delivery, 0: at once
};

/// What the customer gets: a quote, or an invoice where it was declined.
struct CustomerPage {
  /// Which of the two.
  enum class Document { quote, decline_invoice };
  Document document = Document::quote;      ///< which of the two
  Currency currency;                        ///< of every sum
  NumberStyle style;                        ///< how numbers and dates are written
  std::vector<std::string> letterhead{};    ///< name and address of the shop, a line each
  std::optional<std::string> number{};      ///< absent: a draft, no record
  Date date{};                              ///< of the page
  std::optional<Date> valid_until{};        ///< absent on an invoice
  std::vector<std::string> customer{};      ///< lines
  std::string device{};                     ///< its name
  std::optional<std::string> serial{};      ///< of the device; absent: not noted
  std::optional<std::string> condition{};   ///< on arrival; absent: not noted
  std::string fault{};                      ///< as found, a sentence
  std::vector<std::string> not_included{};  ///< what will not be done
  std::string
      advice{};  ///< which choice, or that a repair is not worth it; on an invoice, why it is not repaired here
  bool worth_repairing = true;                      ///< to its owner; false: `advice` says so
  std::vector<CustomerChoice> choices{};            ///< empty on an invoice
  std::vector<CustomerAlternative> alternatives{};  ///< replacements of the case
  std::optional<Bill> invoice{};                    ///< when declined
  std::optional<Bill> decline{};           ///< what is charged if nothing is repaired; absent on an invoice
  std::string warranty{};                  ///< sentence; empty: the shop states none
  std::string diagnosis{};                 ///< sentence on the fee; may be empty
  std::string consent{};                   ///< sentence on the limit; empty: the price is the limit
  std::string if_not_repaired{};           ///< sentence: what is charged then
  std::string risk{};                      ///< sentence: what may break, who bears it
  std::vector<std::string> terms{};        ///< the shop's own
  std::vector<std::string> accessories{};  ///< left with the device
  std::string data{};         ///< a sentence on data, which its owner sees to; empty on an invoice
  std::string safe_return{};  ///< a sentence on what else to know when it comes back; empty on an invoice
};

// ---- What only the shop sees ------------------------------------------------------------------------------------

/// What the shop must know before it opens the device.
struct PageCaution {
  std::string title{};                   ///< of a hazard
  std::vector<std::string> sentences{};  ///< what to do, or not
};

/// Expected costs of a job to the shop, in the case's currency, without the taxes that pass through.
struct JobCost {
  double labour = 0;       ///< as planned
  double order = 0;        ///< landed
  double consumables = 0;  ///< what openings use up
  double stock = 0;        ///< worth of parts in the drawer before, less after: negative where leftovers gain
  double rework = 0;       ///< bad luck on the bench: labour, pieces, money, a second attempt
  double warranty = 0;     ///< returns of new pieces within the warranty
  double come_back = 0;    ///< returns of the work within the warranty
  double liability = 0;    ///< devices lost on the bench
  /// The sum of all of them.
  [[nodiscard]] double total() const noexcept {
    return labour + order + consumables + stock + rework + warranty + come_back + liability;
  }
};

/// What a warranty of so many days would cost.
struct ReserveRow {
  int days = 0;              ///< of warranty, >= 0
  double returns = 0;        ///< expected, of new pieces
  double reserve = 0;        ///< expected cost of these and of complaints of the work, per job taken on
  double mates_failing = 0;  ///< expected failures of old mates in that time, not covered
  bool offered = false;      ///< what the shop file promises
};

/// A limit of the price that is kept with a stated confidence.
struct CeilingRow {
  double confidence = 0;  ///< share of repaired jobs whose charge by time stays within
  Money charge;           ///< as `Bill::payable`
  bool chosen = false;    ///< that in the shop file or the settings
};

/// What the margin of a job becomes when one number of the case or the shop file is at its ends.
struct MarginRow {
  std::string key{};       ///< of the case or the shop file
  std::string label{};     ///< in words, with the unit
  double low = 0;          ///< the lower end
  double base = 0;         ///< as it is
  double high = 0;         ///< the upper end
  double margin_low = 0;   ///< margin at the lower end, money
  double margin_high = 0;  ///< at the upper end
  double swing = 0;        ///< |margin_high - margin_low|
  bool uncertain = false;  ///< a range; else the ends are -20 % and +20 %
};

/// Pieces of one thing that a job takes from the drawer, or that its order brings.
struct OrderRow {
  std::string supplier{};  ///< empty: the shop's own drawer
  std::string item{};      ///< name of the candidate
  int pieces = 0;          ///< >= 1
  double cost = 0;         ///< goods with the tax on them, without shipping; 0 from the drawer
};

/// One choice at cost.
struct ShopChoice {
  CustomerChoice::Kind kind = CustomerChoice::Kind::failed_only;  ///< as on the customer's page
  std::string title{};                                            ///< as on the customer's page
  double cure_chance = 0;                                         ///< that the device leaves cured, 0..1
  double lost_chance = 0;                                         ///< that it is lost on the bench, 0..1
  Money to_pay;                                                   ///< as on the customer's page
  Money consent_limit;                                            ///< likewise
  Money income;                                                   ///< if it is repaired, without tax
  double no_cure_income = 0;                                      ///< if not, without tax
  double expected_income = 0;                                     ///< over all futures, without tax
  JobCost cost;                                                   ///< expected
  double margin = 0;                          ///< expected: expected_income - cost.total()
  double margin_error = 0;                    ///< one standard error of the simulation
  std::optional<double> margin_share{};       ///< of the expected income; absent where that is 0
  double loss_chance = 0;                     ///< that the job costs more than it brings, 0..1
  double margin_p10 = 0;                      ///< margin that one in ten jobs stays below
  double margin_p50 = 0;                      ///< half of them
  double margin_p90 = 0;                      ///< nine in ten
  double minutes_planned = 0;                 ///< on the bench if all goes well
  double minutes_p10 = 0;                     ///< minutes that one in ten jobs stays below
  double minutes_p50 = 0;                     ///< half of them
  double minutes_p90 = 0;                     ///< nine in ten
  std::optional<Money> lowest_price{};        ///< without tax: no expected loss; absent: never cured
  std::optional<Money> lowest_price_total{};  ///< the same as the customer would read it
  std::optional<Money> target_price{};        ///< for the target margin, without tax; absent: at no price
  std::optional<Money> target_price_total{};  ///< the same as the customer would read it
  std::optional<Money>
      no_fee_price;  ///< for the target margin if nothing is charged without a cure, without tax; absent: at no price
  std::optional<Money> no_fee_price_total;  ///< the same as the customer would read it
  std::vector<ReserveRow> reserves{};       ///< by rising number of days
  std::vector<OrderRow> order{};            ///< from the drawer first, then by supplier
  int leftover_pieces = 0;                  ///< that the order leaves if all goes well
  double leftover_value = 0;                ///< of these to the shop, in expectation
  std::vector<CeilingRow> ceilings{};       ///< by rising confidence
  double overrun_chance = 0;                ///< that the charge by time is above the quoted sum to pay
  double over_limit_chance = 0;             ///< that it is above the consent limit
  std::optional<double> owner_saving{};  ///< of the owner against the best alternative, while the need lasts
  std::optional<double>
      owner_saving_with_subsidy{};  ///< the same where the subsidy pays its share; absent: none
  std::vector<MarginRow> moves{};   ///< widest first; of the proposed choice only
};

/// A diagnosis that the customer may walk away from.
struct DiagnosisAnswer {
  double fee = 0;                ///< without tax
  bool credited = true;          ///< not charged if the job goes ahead
  double cost = 0;               ///< of the time on the bench
  double walk_away_low = 0;      ///< share of customers who do not go ahead: the lower end
  double walk_away = 0;          ///< as it is, or the middle
  double walk_away_high = 0;     ///< the upper end
  bool walk_away_known = false;  ///< else a share of 0 to 0.5 is looked at
  double income_per_intake = 0;  ///< expected margin of one device brought in
  double income_low = 0;         ///< expected margin of one device brought in at one end of the share
  double income_high = 0;        ///< and at the other
  std::optional<double>
      break_even_fee{};  ///< of no expected loss per intake, without tax; absent: none is enough
  std::optional<double> turning_share{};  ///< share of walk-aways at which an intake earns nothing
};

struct ShopWhatIf;

/// The job as the shop sees it. Money in the case's currency, expected unless it is Money.
struct ShopPage {
  std::string source_name{};            ///< the case's file
  std::string shop_source{};            ///< the shop's; empty: none
  Currency currency;                    ///< of every sum
  NumberStyle style;                    ///< how numbers and dates are written
  std::optional<std::string> number{};  ///< absent: a draft, no record
  Date date{};                          ///< of the quote
  std::string device{};                 ///< its name
  std::uint64_t seed = 1;               ///< of the random numbers: one seed, one answer
  int futures = 0;                      ///< that the job was worked out in
  double charge_rate = 0;               ///< what an hour is charged at
  double cost_rate = 0;                 ///< what it costs the shop
  double target_margin = 0;             ///< share of the income that is aimed at
  int warranty_days = 0;                ///< on the work and on the parts it brought; 0: none
  double horizon_years = 0;             ///< how far the owner's side looks ahead
  std::string owner_verdict{};          ///< sentence: what the repair is worth to the owner at this price
  std::vector<ShopChoice> choices{};    ///< in the order of the customer page
  int proposed = 0;                     ///< index of the recommended one
  std::optional<DiagnosisAnswer> diagnosis{};  ///< absent: no fee is charged for one
  std::vector<PageCaution> cautions{};         ///< of the hazards of the case
  std::vector<std::string>
      defaults{};                    ///< sentences: what the shop file leaves out, and what is taken instead
  std::vector<std::string> notes{};  ///< sentences: what was limited, what to check
  std::vector<ShopWhatIf> what_ifs;  ///< of the case
};

/// The same job under a what-if of the case: its page, as it would be alone, or why it must not be quoted.
struct ShopWhatIf {
  std::string name;              ///< as the case names it
  std::vector<Change> changes;   ///< of the case
  std::optional<ShopPage> page;  ///< absent: `refused` says why
  std::string refused;           ///< a sentence; empty: it is not
};

/// A job that may be quoted.
struct Quote {
  CustomerPage customer;               ///< what goes out
  std::optional<ShopPage> shop{};      ///< absent for a decline invoice, and where it is not asked for
  std::vector<std::string> remarks{};  ///< sentences for the shop: what to look at before the page goes out
};

/// Why a job must not be quoted as it stands.
struct Refusal {
  /// What stands against it: its owner loses by it, a guarantee pays, the shop may not work on such a device.
  enum class Reason {
    owner_loses,
    guarantee_live,
    not_licensed
  };                                     ///< an invoice for a diagnosis is never refused
  Reason reason = Reason::owner_loses;   ///< the weightiest
  std::vector<std::string> sentences{};  ///< the first says it all
};

/// What is quoted, and how finely.
struct QuoteSettings {
  std::uint64_t seed = 1;               ///< of the random numbers: one seed, one answer
  int futures = 0;                      ///< as in WeighSettings
  int threads = 0;                      ///< 0: as many as the machine has; never changes an answer
  Date date{};                          ///< of the quote
  std::optional<std::string> number{};  ///< of the quote; absent: a draft
  std::optional<CustomerChoice::Kind>
      choice{};                      ///< the proposed one; absent: that of the least cost to the owner
  std::optional<double> ceiling{};   ///< confidence in place of the shop's, 0.5..0.999
  bool rush = false;                 ///< done before its turn, beside what the case says
  bool collection = false;           ///< fetched and brought back, likewise
  bool parts_from_customer = false;  ///< no line for parts, no warranty on them
  bool shop_page = true;             ///< false: nothing of the shop's side is worked out
  bool despite_owner_loss = false;   ///< quote although the owner loses by it; said on the page
  /// The customer had it looked at and does not go ahead.
  struct Declined {
    std::optional<double> minutes{};  ///< spent in all, the diagnosis included; absent: no more than that
  };
  std::optional<Declined> declined{};  ///< an invoice instead of a quote
};

/// A quote, or why there is none.
struct QuoteResult {
  std::optional<Quote> quote{};      ///< absent: `refusal` says why
  std::optional<Refusal> refusal{};  ///< exactly one of the two
};

/// Quotes a case. `rates` are the rates before the shop's licences (see rates_for), and `c` was read under
/// rates_for(shop, rates). Deterministic in its arguments. Throws InputError where case and shop contradict each other
/// (another currency), std::invalid_argument if a setting is out of range.
[[nodiscard]] QuoteResult quote(const Case& c, const Shop& shop, const RateBook& rates,
                                const QuoteSettings& settings);

}  // namespace mendworth
