#pragma once

#include "render/document.hpp"
#include "render/quote_words.hpp"

/// The page for the shop as a sheet: every choice at cost.
namespace mendworth {

/// `width`: columns of the page, for what its first screen has room for.
[[nodiscard]] Document shop_sheet(const ShopPage& page, int width = PageStyle{}.width);

/// Tables with one column for each choice, in the order of the page.
[[nodiscard]] Table income_table(const ShopPage& page, const Pen& pen);
[[nodiscard]] Table margin_table(const ShopPage& page, const Pen& pen);
[[nodiscard]] Table time_table(const ShopPage& page, const Pen& pen);
[[nodiscard]] Table price_table(const ShopPage& page, const Pen& pen);
[[nodiscard]] Table ceiling_table(const ShopPage& page, const Pen& pen);
/// What-ifs of the case beside it, of the proposed choice each.
[[nodiscard]] Section shop_what_ifs(const ShopPage& page, const Pen& pen);
/// One row for each thing taken or ordered.
[[nodiscard]] Table order_table(const ShopPage& page, const Pen& pen);
/// One row for each choice and length of warranty.
[[nodiscard]] Table reserve_table(const ShopPage& page, const Pen& pen);
/// What moves the margin of a choice.
[[nodiscard]] Table moves_table(const ShopChoice& choice, const Pen& pen);

}  // namespace mendworth
