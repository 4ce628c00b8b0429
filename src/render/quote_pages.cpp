#include "mendworth/render.hpp"
#include "render/customer_sheet.hpp"
#include "render/document.hpp"
#include "render/shop_sheet.hpp"

namespace mendworth {

std::string customer_text(const CustomerPage& page, const PageStyle& style) {
  return document_text(customer_sheet(page), style);
}
std::string customer_markdown(const CustomerPage& page) { return document_markdown(customer_sheet(page)); }
std::string customer_html(const CustomerPage& page) { return document_html(customer_sheet(page)); }

std::string shop_text(const ShopPage& page, const PageStyle& style) {
  return document_text(shop_sheet(page), style);
}
std::string shop_markdown(const ShopPage& page) { return document_markdown(shop_sheet(page)); }
std::string shop_html(const ShopPage& page) { return document_html(shop_sheet(page)); }

}  // namespace mendworth
