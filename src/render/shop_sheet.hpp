#pragma once

#include "render/quote_words.hpp"
#include "render/sheet.hpp"

/// The page for the shop as a sheet: every choice at cost.
namespace mendworth {

[[nodiscard]] Sheet shop_sheet(const ShopPage& page);

/// Tables with one column for each choice, in the order of the page.
[[nodiscard]] SheetTable income_table(const ShopPage& page, const Pen& pen);
[[nodiscard]] SheetTable margin_table(const ShopPage& page, const Pen& pen);
[[nodiscard]] SheetTable time_table(const ShopPage& page, const Pen& pen);
[[nodiscard]] SheetTable price_table(const ShopPage& page, const Pen& pen);
[[nodiscard]] SheetTable ceiling_table(const ShopPage& page, const Pen& pen);
/// One row for each thing taken or ordered.
[[nodiscard]] SheetTable order_table(const ShopPage& page, const Pen& pen);
/// One row for each choice and length of warranty.
[[nodiscard]] SheetTable reserve_table(const ShopPage& page, const Pen& pen);
/// What moves the margin of a choice.
[[nodiscard]] SheetTable moves_table(const ShopChoice& choice, const Pen& pen);

}  // namespace mendworth
