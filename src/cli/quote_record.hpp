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

/// The words of --choice.
[[nodiscard]] const Choices<CustomerChoice::Kind>& job_choices();

/// Says why a job is not quoted; the exit code.
[[nodiscard]] int refuse(const Refusal& refusal, std::ostream& err, int columns);

/// Quotes what was read; the paths of `options` only name it.
[[nodiscard]] QuoteResult quote_from(const QuoteInputs& inputs, const QuoteOptions& options,
                                     const QuoteSettings& settings);

/// Both pages carry the number. Absent: a draft.
void set_number(Quote& quote, const std::optional<std::string>& number);

/// Where the page goes that is asked for, and that page.
[[nodiscard]] AnswerOutput page_output(const QuoteOptions& options, const Surroundings& surroundings);
void write_page(const Quote& quote, const QuoteOptions& options, AnswerOutput& out, const Streams& streams);

/// All that a record holds: the pages in every format, what was read, and what was asked for.
[[nodiscard]] std::vector<RecordFile> record_of(const Quote& quote, const QuoteInputs& inputs,
                                                const QuoteOptions& options, const QuoteSettings& settings);

}  // namespace mendworth::cli
