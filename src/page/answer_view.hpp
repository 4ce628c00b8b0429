#pragma once

#include <string>

#include "input/toml_text.hpp"
#include "mendworth/quote.hpp"
#include "mendworth/weigh.hpp"

/// An answer as parts of the page, in HTML.
namespace mendworth::page {

/// The verdict, the courses, what to order: as a weighing without what-ifs has them too.
[[nodiscard]] std::string lead_html(const Weighing& w);
/// Every section, each to be folded.
[[nodiscard]] std::string sections_html(const Weighing& w);
/// The verdict alone, in plain words.
[[nodiscard]] std::string verdict_words(const Weighing& w);

/// A slider for each number that the saving depends on and that the text can hold, the widest swing first, with the
/// values at which the answer turns.
[[nodiscard]] std::string sliders_html(const Weighing& w, const input::TomlText& text);

/// A state that was pinned beside the one that is: the answers, and the entries in which their texts differ.
struct Pinned {
  Weighing weighing;
  std::string text;
};
[[nodiscard]] std::string comparison_html(const Pinned& pinned, const Weighing& now, const std::string& text);

/// The customer's page, or why there is none; with `shop_side` the page for the shop.
[[nodiscard]] std::string quote_html(const QuoteResult& result, bool shop_side);

}  // namespace mendworth::page
