#pragma once

#include <string>

#include "render/document.hpp"
#include "render/quote_words.hpp"

/// The page for the customer as a sheet. Nothing here knows the page of the shop: what the customer reads can only come
/// from the CustomerPage.
namespace mendworth {

[[nodiscard]] Document customer_sheet(const CustomerPage& page);

/// A bill: its lines, then what follows from them, each sum from the amounts printed above it.
[[nodiscard]] Table bill_table(const Bill& bill, const Pen& pen, const std::string& caption);

/// "1 h 15 min", "2", or nothing for a sum: as many decimals of minutes as it takes to come to the amount.
[[nodiscard]] std::string quantity_text(const BillLine& line, const Pen& pen);

}  // namespace mendworth
