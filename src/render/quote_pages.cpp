#include "mendworth/render.hpp"
#include "render/customer_sheet.hpp"
#include "render/document.hpp"
#include "render/shop_sheet.hpp"

namespace mendworth {

namespace {

// A program reads numbers in one way only.
template <class Page>
Page for_form(Page page, const PageStyle& style) {
  if (style.form == PageForm::csv) page.style = NumberStyle{};
  return page;
}

}  // namespace

std::string customer_page(const CustomerPage& page, const PageStyle& style) {
  return page_of(customer_sheet(for_form(page, style)), style);
}

std::string shop_page(const ShopPage& page, const PageStyle& style) {
  return page_of(shop_sheet(for_form(page, style), style.width), style);
}

}  // namespace mendworth
