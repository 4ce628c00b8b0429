#pragma once

#include <iosfwd>
#include <optional>
#include <string>
#include <vector>

#include "cli/commands.hpp"
#include "cli/record_folder.hpp"
#include "mendworth/quote.hpp"
#include "mendworth/render.hpp"
#include "rates/read_rates.hpp"

namespace mendworth::cli {

/// What a quote was made from, byte by byte.
struct QuoteInputs {
  std::string case_text;
  std::optional<std::string> shop_text, drawer_text;
  std::vector<RatesFile> rates;
};

/// The choice of a word of --choice.
[[nodiscard]] std::optional<CustomerChoice::Kind> choice_of(const std::string& word);

/// A message, wrapped.
void tell(const std::string& message, std::ostream& err, const std::string& start = "mendworth: ");

/// Says why a job is not quoted; the exit code.
[[nodiscard]] int refuse(const Refusal& refusal, std::ostream& err);

/// Quotes what was read; the paths of `options` only name it.
[[nodiscard]] QuoteResult quote_from(const QuoteInputs& inputs, const QuoteOptions& options,
                                     const QuoteSettings& settings);

/// Both pages carry the number. Absent: a draft.
void set_number(Quote& quote, const std::optional<std::string>& number);

/// The page that is asked for. A quote that has no shop page is asked for the customer's alone.
[[nodiscard]] std::string page_of(const Quote& quote, QuoteOptions::Page page, PageFormat format,
                                  const PageStyle& style);

/// All that a record holds: the pages in every format, what was read, and what was asked for.
[[nodiscard]] std::vector<RecordFile> record_of(const Quote& quote, const QuoteInputs& inputs,
                                                const QuoteOptions& options, const QuoteSettings& settings);

}  // namespace mendworth::cli
