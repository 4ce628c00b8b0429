// What a shop sees first of a quote at cost: an answer in ten lines, on one screen.
#include <doctest/doctest.h>

#include <algorithm>
#include <sstream>
#include <string>

#include "mendworth/render.hpp"
#include "support/sample_quote.hpp"

using namespace mendworth;
using namespace mendworth::testing;

namespace {

int lines_of(const std::string& text) { return static_cast<int>(std::count(text.begin(), text.end(), '\n')); }

// As one line, for words that a line's end may part.
std::string first_lines(const std::string& text, int most) {
  std::istringstream in(text);
  std::string all;
  std::string line;
  for (int i = 0; i < most && std::getline(in, line) && !line.empty(); ++i) all += line + " ";
  return all;
}

}  // namespace

TEST_CASE("the first ten lines of the shop's page are an answer") {
  const ShopPage page = sample_shop_page();
  const std::string text = first_lines(shop_page(page, {}), 10);
  CAPTURE(text);
  for (const char* piece : {"For the shop only", "charge EUR", "Expected margin EUR", "chance of a loss",
                            "To order: ", "Look at: Mains voltage", "--show notes"})
    CHECK(text.find(piece) != std::string::npos);
}

TEST_CASE("the shop's first screen fits a screen at every width, and names the rest") {
  const ShopPage page = sample_shop_page();
  for (const int width : {60, 80, 120}) {
    CAPTURE(width);
    const std::string text = shop_page(page, {.width = width});
    CHECK(lines_of(text) <= 40);
    CHECK(text.find("More: --show all, or --show LIST with names of: choices,") != std::string::npos);
  }
  CHECK(shop_page(page, {.show = {"margin"}}).find("Standard error") != std::string::npos);
  CHECK(shop_page(page, {}).find("Standard error") == std::string::npos);
  CHECK_THROWS_AS(static_cast<void>(shop_page(page, {.show = {"nothing"}})), UnknownName);
}

TEST_CASE("many orders are one line") {
  ShopPage page = sample_shop_page();
  auto& order = page.choices.at(static_cast<std::size_t>(page.proposed)).order;
  order.assign(5, OrderRow{.supplier = "Quay Parts", .item = "key", .pieces = 2, .cost = 1.5});
  CHECK(shop_page(page, {}).find(
            "To order: 2 x key from Quay Parts (EUR 1.50); and 4 more (--show order).\n") !=
        std::string::npos);
}
