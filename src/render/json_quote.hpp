#pragma once

#include "mendworth/money.hpp"
#include "mendworth/quote.hpp"
#include "mendworth/written.hpp"
#include "render/json_support.hpp"

/// What the two JSON files of a quote share.
namespace mendworth {

/// A sum as {"minor": 1250, "text": "EUR 12.50"}: the first to count with, the second as it is printed.
inline Json sum_json(Money sum, const Currency& currency, const NumberStyle& style) {
  return {{"minor", sum.minor}, {"text", written(sum, currency, style)}};
}

/// The code, and how many digits of a unit a whole number of minor units has.
inline Json currency_json(const Currency& currency) {
  return {{"code", currency.code}, {"minor_digits", currency.minor_digits}};
}

/// "2026-03-01", whatever the style of the pages.
inline Json iso_date(const Date& date) { return written(date, NumberStyle{}); }

inline const char* kind_word(CustomerChoice::Kind kind) {
  switch (kind) {
    case CustomerChoice::Kind::failed_only: return "failed_only";
    case CustomerChoice::Kind::with_mates: return "with_mates";
    case CustomerChoice::Kind::every_original: return "every_original";
  }
  return "";
}

}  // namespace mendworth
