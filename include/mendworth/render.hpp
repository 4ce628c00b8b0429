#pragma once

#include <string>

#include "mendworth/bulk.hpp"
#include "mendworth/buy.hpp"
#include "mendworth/case.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/drawer.hpp"
#include "mendworth/lifetime.hpp"
#include "mendworth/quote.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/weigh.hpp"

/// Finished answers to text. Pure: same argument, same bytes.
namespace mendworth {

struct TextStyle {
  bool color = false;
  int width = 80;  ///< columns, >= 60
};

[[nodiscard]] std::string weighing_text(const Weighing& w, const TextStyle& style);

/// Schema "mendworth.weighing", version 1; see weighing_schema. Throws std::logic_error if a number is not finite.
[[nodiscard]] std::string weighing_json(const Weighing& w);

/// The JSON Schema (draft-07) that every weighing_json satisfies.
[[nodiscard]] const std::string& weighing_schema();

/// What to order: the best basket, others, fit, quantities, spares.
[[nodiscard]] std::string buying_text(const Buying& b, const TextStyle& style);

/// Schema "mendworth.buying", version 1; see buying_schema. Throws std::logic_error if a number is not finite.
[[nodiscard]] std::string buying_json(const Buying& b);

/// The JSON Schema (draft-07) that every buying_json satisfies.
[[nodiscard]] const std::string& buying_schema();

/// What a history says about the life of a part, in words, tables and plots of plain characters.
[[nodiscard]] std::string lifetime_text(const Lifetime& lifetime, const TextStyle& style);

/// Schema "mendworth.lifetime", version 1; see lifetime_schema. A limit that does not exist is null. Throws
/// std::logic_error if any other number is not finite.
[[nodiscard]] std::string lifetime_json(const Lifetime& lifetime);

/// The JSON Schema (draft-07) that every lifetime_json satisfies.
[[nodiscard]] const std::string& lifetime_schema();

/// The distribution-free curves and the fitted laws on Weibull probability paper, as a self-contained SVG 1.1 image.
/// Groups differ by marker and dash, not by colour alone.
[[nodiscard]] std::string lifetime_svg(const Lifetime& lifetime);

/// What lies in the drawer, row by row, with the first of the user's own columns.
[[nodiscard]] std::string drawer_text(const Drawer& drawer, const TextStyle& style);

/// Schema "mendworth.drawer", version 1; see drawer_schema.
[[nodiscard]] std::string drawer_json(const Drawer& drawer);

/// The JSON Schema (draft-07) that every drawer_json satisfies.
[[nodiscard]] const std::string& drawer_schema();

/// What a fleet or a shop should buy, and how to look after the fleet.
[[nodiscard]] std::string bulk_text(const BulkAnswer& answer, const TextStyle& style);
/// Schema "mendworth.bulk", version 1; see bulk_schema. Throws std::logic_error if a number is not finite.
[[nodiscard]] std::string bulk_json(const BulkAnswer& answer);
/// The JSON Schema (draft-07) that every bulk_json satisfies.
[[nodiscard]] const std::string& bulk_schema();

/// The page for the customer: text in `style.width` columns; GitHub-flavoured Markdown; one self-contained HTML5 file.
[[nodiscard]] std::string customer_text(const CustomerPage& page, const TextStyle& style);
[[nodiscard]] std::string customer_markdown(const CustomerPage& page);
[[nodiscard]] std::string customer_html(const CustomerPage& page);
/// Schema "mendworth.quote", version 1; see quote_schema. Sums are whole minor units and texts of the same sum.
[[nodiscard]] std::string customer_json(const CustomerPage& page);
[[nodiscard]] const std::string& quote_schema();

/// The page for the shop, in the same forms. Expectations are rounded so that what a job earns and costs adds up as
/// printed: a part of the cost may differ from its own rounding by one minor unit. In JSON they are not rounded.
[[nodiscard]] std::string shop_text(const ShopPage& page, const TextStyle& style);
[[nodiscard]] std::string shop_markdown(const ShopPage& page);
[[nodiscard]] std::string shop_html(const ShopPage& page);
/// Schema "mendworth.quote-at-cost", version 1; see shop_schema. Throws std::logic_error if a number is not finite.
[[nodiscard]] std::string shop_json(const ShopPage& page);
[[nodiscard]] const std::string& shop_schema();

/// All rates with their sources.
[[nodiscard]] std::string rates_text(const RateBook& rates, const TextStyle& style);

/// The same, schema "mendworth.rates", version 2; see rates_schema.
[[nodiscard]] std::string rates_json(const RateBook& rates);
[[nodiscard]] const std::string& rates_schema();

/// What there is to say of a file that was checked.
struct CheckedFile {
  std::string file;  ///< as it was named
  std::string kind;  ///< "case", "shop", "rates", "drawer", "history", "quotation" or "unknown"
  std::vector<Diagnostic> problems;
  std::string trouble;  ///< why it cannot be read; empty if it can
};
/// Schema "mendworth.check", version 1; see check_schema.
[[nodiscard]] std::string check_json(const std::vector<CheckedFile>& files);
[[nodiscard]] const std::string& check_schema();

/// An amount with its currency's digits, for instance "EUR 12.50"; rounded half away from zero.
/// Throws std::domain_error if the amount is not finite.
[[nodiscard]] std::string amount_text(double amount, const std::string& currency, int minor_digits);

/// The version of this library, "0.1.0".
[[nodiscard]] const char* version() noexcept;

}  // namespace mendworth
