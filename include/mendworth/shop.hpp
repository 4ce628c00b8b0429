#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "mendworth/case.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/rates.hpp"

/// How a shop charges and what it promises: its pricing rules, from a shop file. Everything is optional; a Shop made
/// by its default constructor charges the case's labour rate, parts at cost, and no tax.
/// Money is in the currency of the case that is quoted.
namespace mendworth {

/// What a line of a bill is for; taxes and discounts tell them apart.
enum class LineKind { labour, parts, consumables, shipping, diagnosis, rush, collection, discount };

/// "labour", "parts", "consumables", "shipping", "diagnosis", "rush", "collection", "discount"
[[nodiscard]] const char* name_of(LineKind kind) noexcept;

/// How numbers and dates are written on the pages of the shop, whatever the locale.
struct NumberStyle {
  std::string decimal_mark = ".";         ///< "." or ","
  std::string group_mark{};               ///< between groups of three digits: "", ",", ".", " ", "'"
  std::optional<std::string> currency{};  ///< "€"; absent: the ISO 4217 code
  bool currency_first = true;             ///< "EUR 12.50", else "12.50 EUR"
  std::string date_form = "YYYY-MM-DD";   ///< YYYY, MM and DD once each, with punctuation or spaces between
};

/// The price of a part as a multiple of what a piece costs the shop. The band of the highest `cost_from` not above the
/// cost of a piece counts.
struct MarkupBand {
  double cost_from = 0;  ///< cost of a piece, >= 0, rising, the first 0
  double times = 1;      ///< > 0
};

/// A fixed price for a job that is known: so many positions of one part renewed, and nothing else.
struct FlatRate {
  std::string name{};          ///< as the customer reads it
  std::string part{};          ///< Part::name
  int positions = 1;           ///< >= 1
  double price = 0;            ///< > 0; in place of the labour line
  bool parts_included = true;  ///< no line for parts, consumables and shipping either
};

/// A tax on what the shop charges.
struct Tax {
  std::string name{};              ///< as the bill calls it
  double rate = 0;                 ///< share, 0..1
  bool included = false;           ///< prices hold it already; it is shown as contained in the total
  bool compound = false;           ///< on the amounts and on the taxes before it, not on the amounts alone
  std::vector<LineKind> exempt{};  ///< kinds of line that it is not on
};

/// Where a tax is rounded to a minor unit.
enum class TaxBy { total, line };

/// Who bears what the order costs beside the goods: shipping, fees, duty.
enum class ShippingCharge {
  line,    ///< a line of its own, at cost
  spread,  ///< part of the cost of a piece, before the markup
  shop,    ///< the shop
};

/// A contribution that somebody else pays to the shop for the customer.
struct Subsidy {
  std::string name{};           ///< who pays it, as the bill says
  double share = 0;             ///< of the total, tax included; 0..1
  std::optional<double> cap{};  ///< greatest sum, > 0
  bool registered = false;      ///< the shop takes part; else it is only told on the shop page
  std::optional<Date> until{};  ///< last day
};

/// Pricing rules and promises of one shop.
struct Shop {
  std::string source_name{};                ///< the file; empty: none
  std::vector<std::string> letterhead{};    ///< name and address, a line each
  std::optional<std::string> currency{};    ///< ISO 4217: of every price here; must be the case's
  std::vector<std::string> licensed_for{};  ///< names of hazards from the rates that the shop may work on
  NumberStyle style;                        ///< of every page

  // Labour.
  std::optional<double> charge_rate{};  ///< an hour, >= 0; absent: the case's labour rate
  std::optional<Quantity> cost_rate{};  ///< what an hour costs the shop, >= 0; absent: the case's labour rate
  double billing_increment_minutes = 0;  ///< every one begun is charged; 0: minutes as they are
  double minimum_charge = 0;             ///< least labour charge of a job, >= 0
  std::vector<FlatRate> flat_rates{};    ///< for jobs that are known

  // Diagnosis.
  std::optional<double> diagnosis_fee{};  ///< > 0
  bool diagnosis_credited = true;         ///< not charged if the job goes ahead
  std::optional<Quantity>
      diagnosis_minutes;  ///< bench time before the customer decides; absent: the case's once-minutes
  std::optional<Quantity> walk_away{};  ///< share of customers who do not go ahead, 0..1

  // Parts.
  std::vector<MarkupBand> markup{};                ///< empty: at cost
  double least_markup = 0;                         ///< least sum added to the cost of a line of parts, >= 0
  ShippingCharge shipping = ShippingCharge::line;  ///< who bears what the order costs beside the goods
  std::optional<double> consumables_flat{};  ///< a job, >= 0; absent both: the case's consumables as expected
  std::optional<double> consumables_share{};  ///< of labour, 0..1; not with the flat sum

  // Fees and discount.
  std::optional<double> rush_flat{};       ///< a sum added for a job done before its turn, >= 0
  std::optional<double> rush_share{};      ///< in its place a share of labour, >= 0
  std::optional<double> collection_fee{};  ///< a sum for fetching and bringing back, >= 0
  double discount_share = 0;               ///< of labour, parts and consumables, 0..1
  std::string discount_name = "Discount";  ///< as the bill calls it

  // Taxes and payment.
  std::vector<Tax> taxes{};     ///< in the order in which they build on each other
  TaxBy tax_by = TaxBy::total;  ///< where a tax is rounded
  std::optional<double>
      cash_step{};  ///< least coin, for instance 0.05; what is paid and deposited is rounded to it
  std::optional<double> deposit_share{};  ///< of the payable sum, 0..1
  double deposit_from = 0;                ///< payable sum from which a deposit is asked
  bool deposit_covers_parts = false;      ///< at least what the parts and their shipping are charged at

  // Terms. What is not stated is not promised: no page for the customer says it.
  std::optional<int> valid_days{};     ///< >= 1
  std::optional<int> warranty_days{};  ///< on the work and on the parts it brought; 0: none
  std::optional<double>
      not_to_exceed{};  ///< share above the total up to which no consent is asked; absent: 0
  std::optional<double>
      ceiling_confidence;       ///< 0.5..0.999: the limit is then the charge by time that holds so often
  bool no_cure_no_fee = false;  ///< nothing is charged for a repair that does not cure the device
  std::optional<double> no_cure_charge;  ///< if it cannot be repaired; absent: what declining comes to
  std::optional<double> liability{};     ///< paid by the shop if the device is lost on the bench, >= 0
  std::vector<std::string> terms{};  ///< sentences for the customer: what voids the warranty, old parts ...

  // What only the shop sees.
  std::optional<Quantity> come_back{};  ///< chance that the work is complained of within the warranty, 0..1
  std::optional<Quantity> come_back_minutes{};  ///< absent: the case's minutes of an opening
  double target_margin = 0.30;                  ///< share of the income, 0 <= m < 1

  std::optional<Subsidy> subsidy{};  ///< absent: none

  /// Where a key stands in the file.
  struct Place {
    int line = 0;    ///< 1-based
    int column = 0;  ///< 1-based, in code points
  };
  std::map<std::string, Place> places{};  ///< in the file: keys that only a case can show to be wrong

  /// A problem of the key, with its place if that is known.
  [[nodiscard]] Diagnostic problem(const std::string& key, std::string message, std::string remedy) const;
};

/// Reads a shop file. Throws InputError with every problem of the text. Names of hazards are those of `rates`.
[[nodiscard]] Shop read_shop(std::string_view toml_text, const std::string& source_name,
                             const RateBook& rates);

/// The rates of a shop that may work on some hazards: those no longer leave the work to others.
[[nodiscard]] RateBook rates_for(const Shop& shop, const RateBook& rates);

/// What the warranty is counted as: no days where none is stated.
[[nodiscard]] inline int warranty_days(const Shop& shop) { return shop.warranty_days.value_or(0); }

/// A commented shop file with every key.
[[nodiscard]] std::string starter_shop();

}  // namespace mendworth
