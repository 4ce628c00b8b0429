#pragma once

#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include "mendworth/beside.hpp"
#include "mendworth/bulk.hpp"
#include "mendworth/buy.hpp"
#include "mendworth/case.hpp"
#include "mendworth/curve.hpp"
#include "mendworth/diagnostic.hpp"
#include "mendworth/drawer.hpp"
#include "mendworth/lifetime.hpp"
#include "mendworth/quote.hpp"
#include "mendworth/rates.hpp"
#include "mendworth/row_answer.hpp"
#include "mendworth/rows.hpp"
#include "mendworth/shared_order.hpp"
#include "mendworth/weigh.hpp"

/// Finished answers to text. Pure: same argument, same bytes.
namespace mendworth {

/// What a page is written as; PageStyle says more.
enum class PageForm { text, markdown, html, csv };

/// How an answer is written: a page of text for a terminal, GitHub-flavoured Markdown, one self-contained HTML5 file, or
/// its tables as CSV (RFC 4180).
struct PageStyle {
  PageForm form = PageForm::text;  ///< which of these
  bool color = false;              ///< text: emphasis in bold
  int width = 80;                  ///< text: columns, >= 60
  bool unicode = false;            ///< text: charts in the lines and blocks that Unicode has, else in ASCII
  /// Names of sections in the order wanted, "answer" for the first screen, or "all" alone. None: the first screen; of CSV
  /// every table.
  std::vector<std::string> show{};
  std::optional<std::string> table{};  ///< this table alone; as CSV its records do not begin with its name

  /// Text, and nothing asked for by its name.
  [[nodiscard]] bool is_usual_text() const { return form == PageForm::text && show.empty() && !table; }
};

/// A style asks for what is not there; says what is.
struct UnknownName : std::invalid_argument {
  using std::invalid_argument::invalid_argument;
};

/// An answer as `style` asks for it; each of these throws UnknownName where it asks for what is not there.
[[nodiscard]] std::string weighing_page(const Weighing& w, const PageStyle& style);
/// The names of a weighing's sections, in their order.
[[nodiscard]] const std::vector<std::string>& weighing_sections();

/// Schema "mendworth.weighing", version 2; see weighing_schema. Throws std::logic_error if a number is not finite.
[[nodiscard]] std::string weighing_json(const Weighing& w);

/// The JSON Schema (draft-07) that every weighing_json satisfies.
[[nodiscard]] const std::string& weighing_schema();

/// What to order: the best basket, others, fit, quantities, spares.
[[nodiscard]] std::string buying_page(const Buying& b, const PageStyle& style);
/// The names of its sections, in their order.
[[nodiscard]] const std::vector<std::string>& buying_sections();

/// Schema "mendworth.buying", version 1; see buying_schema. Throws std::logic_error if a number is not finite.
[[nodiscard]] std::string buying_json(const Buying& b);

/// The JSON Schema (draft-07) that every buying_json satisfies.
[[nodiscard]] const std::string& buying_schema();

/// Which devices to repair, one order for all of them, and who pays what.
[[nodiscard]] std::string shared_order_page(const SharedOrder& answer, const PageStyle& style);
/// The names of its sections, in their order.
[[nodiscard]] const std::vector<std::string>& shared_order_sections();

/// Schema "mendworth.shared-order", version 1; see shared_order_schema. Throws std::logic_error if a number is not finite.
[[nodiscard]] std::string shared_order_json(const SharedOrder& answer);

/// The JSON Schema (draft-07) that every shared_order_json satisfies.
[[nodiscard]] const std::string& shared_order_schema();

/// What a history says about the life of a part, in words, tables and plots of plain characters.
[[nodiscard]] std::string lifetime_page(const Lifetime& lifetime, const PageStyle& style);
/// The names of its sections, in their order.
[[nodiscard]] const std::vector<std::string>& lifetime_sections();

/// Schema "mendworth.lifetime", version 1; see lifetime_schema. A limit that does not exist is null. Throws
/// std::logic_error if any other number is not finite.
[[nodiscard]] std::string lifetime_json(const Lifetime& lifetime);

/// The JSON Schema (draft-07) that every lifetime_json satisfies.
[[nodiscard]] const std::string& lifetime_schema();

/// The distribution-free curves and the fitted laws on Weibull probability paper, as a self-contained SVG 1.1 image.
/// Groups differ by marker and dash, not by colour alone.
[[nodiscard]] std::string lifetime_svg(const Lifetime& lifetime);

/// What lies in the drawer, row by row, with the first of the user's own columns.
[[nodiscard]] std::string drawer_page(const Drawer& drawer, const PageStyle& style);
/// The names of its sections, in their order.
[[nodiscard]] const std::vector<std::string>& drawer_sections();

/// Schema "mendworth.drawer", version 1; see drawer_schema.
[[nodiscard]] std::string drawer_json(const Drawer& drawer);

/// The JSON Schema (draft-07) that every drawer_json satisfies.
[[nodiscard]] const std::string& drawer_schema();

/// What a fleet or a shop should buy, and how to look after the fleet.
[[nodiscard]] std::string bulk_page(const BulkAnswer& answer, const PageStyle& style);
/// The names of its sections, in their order.
[[nodiscard]] const std::vector<std::string>& bulk_sections();
/// Schema "mendworth.bulk", version 1; see bulk_schema. Throws std::logic_error if a number is not finite.
[[nodiscard]] std::string bulk_json(const BulkAnswer& answer);
/// The JSON Schema (draft-07) that every bulk_json satisfies.
[[nodiscard]] const std::string& bulk_schema();

/// The same page with a section "what-if", in which the answer is compared with what stands beside it, and the same JSON
/// with each of these as it would be alone.
[[nodiscard]] std::string compared_page(const Compared<Weighing>& all, const PageStyle& style);
/// The same of purchases.
[[nodiscard]] std::string compared_page(const Compared<Buying>& all, const PageStyle& style);
/// The same of bulk what-ifs.
[[nodiscard]] std::string compared_page(const Compared<BulkAnswer>& all, const PageStyle& style);
/// The JSON of the answer, with each of those beside it as it would be alone; schema as of one answer.
[[nodiscard]] std::string compared_json(const Compared<Weighing>& all);
/// The same of purchases.
[[nodiscard]] std::string compared_json(const Compared<Buying>& all);
/// The same of bulk what-ifs.
[[nodiscard]] std::string compared_json(const Compared<BulkAnswer>& all);

/// An answer as one or two numbers vary.
[[nodiscard]] std::string curve_page(const Curve& curve, const PageStyle& style);
/// The names of its sections, in their order.
[[nodiscard]] const std::vector<std::string>& curve_sections();
/// Schema "mendworth.curve", version 1; see curve_schema. Throws std::logic_error if a number is not finite.
[[nodiscard]] std::string curve_json(const Curve& curve);
/// The JSON Schema (draft-07) that every curve_json satisfies.
[[nodiscard]] const std::string& curve_schema();

/// Lines of 'rows', each with its line end: the headings and the answer of a row as CSV, which is rounded as a page is;
/// the row as JSON on one line, unrounded, after row_schema. What was read comes first, as it stands. A row without an
/// answer has its problem.
[[nodiscard]] std::string row_headings_csv(const std::vector<std::string>& headings);
/// One row under these headings; one without an answer has its problem.
[[nodiscard]] std::string row_csv(const TableRow& row, const std::optional<RowAnswer>& answer);
/// The row as JSON on one line, unrounded, after row_schema.
[[nodiscard]] std::string row_json(const std::vector<std::string>& headings, const TableRow& row,
                                   const std::optional<RowAnswer>& answer);
/// The JSON Schema (draft-07) of a line of row_json.
[[nodiscard]] const std::string& row_schema();

/// The page for the customer, always whole.
[[nodiscard]] std::string customer_page(const CustomerPage& page, const PageStyle& style);
/// Schema "mendworth.quote", version 2; see quote_schema. Sums are whole minor units and texts of the same sum.
[[nodiscard]] std::string customer_json(const CustomerPage& page);
/// The JSON Schema (draft-07) that every customer_json satisfies.
[[nodiscard]] const std::string& quote_schema();

/// The page for the shop. Expectations are rounded so that what a job earns and costs adds up as printed: a part of the
/// cost may differ from its own rounding by one minor unit. In JSON they are not rounded.
[[nodiscard]] std::string shop_page(const ShopPage& page, const PageStyle& style);
/// The names of its sections, in their order.
[[nodiscard]] const std::vector<std::string>& shop_sections();
/// Schema "mendworth.quote-at-cost", version 1; see shop_schema. Throws std::logic_error if a number is not finite.
[[nodiscard]] std::string shop_json(const ShopPage& page);
/// The JSON Schema (draft-07) that every shop_json satisfies.
[[nodiscard]] const std::string& shop_schema();

/// JSON Schemas (draft 2020-12) of a case file and of a shop file, for editors: keys, types and limits of each number.
/// What hangs on several keys, only the reader knows.
[[nodiscard]] std::string case_file_schema();
/// The same of a shop file.
[[nodiscard]] std::string shop_file_schema();

/// All rates with their sources.
[[nodiscard]] std::string rates_page(const RateBook& rates, const PageStyle& style);
/// The names of its sections, in their order.
[[nodiscard]] const std::vector<std::string>& rates_sections();

/// The same, schema "mendworth.rates", version 2; see rates_schema.
[[nodiscard]] std::string rates_json(const RateBook& rates);
/// The JSON Schema (draft-07) that every rates_json satisfies.
[[nodiscard]] const std::string& rates_schema();

/// What there is to say of a file that was checked.
struct CheckedFile {
  std::string file;  ///< as it was named
  std::string kind;  ///< "case", "shop", "rates", "drawer", "history", "quotation" or "unknown"
  std::vector<Diagnostic> problems;  ///< in the order of its lines; empty: none
  std::string trouble;               ///< why it cannot be read; empty if it can
};
/// What each file is, and every problem in a table; as text, problems are messages of their own.
[[nodiscard]] std::string check_page(const std::vector<CheckedFile>& files, const PageStyle& style);
/// The names of its sections, in their order.
[[nodiscard]] const std::vector<std::string>& check_sections();
/// Schema "mendworth.check", version 1; see check_schema.
[[nodiscard]] std::string check_json(const std::vector<CheckedFile>& files);
/// The JSON Schema (draft-07) that every check_json satisfies.
[[nodiscard]] const std::string& check_schema();

/// An amount with its currency's digits, for instance "EUR 12.50"; rounded half away from zero.
/// Throws std::domain_error if the amount is not finite.
[[nodiscard]] std::string amount_text(double amount, const std::string& currency, int minor_digits);

/// The version of this library, "0.1.0".
[[nodiscard]] const char* version() noexcept;

}  // namespace mendworth
