#include <fmt/format.h>

#include "cli/case_input.hpp"
#include "cli/commands.hpp"
#include "cli/destination.hpp"
#include "cli/exit_code.hpp"
#include "input/suggest.hpp"
#include "mendworth/render.hpp"

namespace mendworth::cli {
namespace {

// "PART=N"; a part's name may hold '=', a number may not.
WantedPieces wanted_pieces(const std::string& text, const Case& c) {
  constexpr std::uint64_t most = 1'000'000;
  const std::size_t equals = text.rfind('=');
  const auto number =
      equals == std::string::npos ? std::nullopt : whole_number(text.substr(equals + 1), 1, most);
  if (!number || equals == 0) {
    throw UsageError(
        fmt::format("--pieces wants PART=N with a whole number from 1 to {}, for instance --pieces "
                    "\"{}=12\", not '{}'",
                    most, c.parts.front().name, text));
  }
  WantedPieces wanted{.part = text.substr(0, equals), .pieces = static_cast<int>(*number)};
  std::vector<std::string> names;
  for (const Part& part : c.parts) {
    if (part.name == wanted.part) return wanted;
    names.push_back(part.name);
  }
  const std::string hint = input::suggestion(wanted.part, names);
  throw UsageError(
      fmt::format("--pieces: the case has no part '{}'{}", wanted.part, hint.empty() ? "" : "; " + hint));
}

}  // namespace

int buy_command(const BuyOptions& options, const Streams& streams, const Surroundings& surroundings) {
  check_drawer_use(options.case_path, options.drawer_path, options.out_path);
  Destination out(options.out_path, "--out", options.case_path);
  const PageStyle style = page_style(options.page, buying_sections(), surroundings, out.is_standard_output());
  const RateBook rates = rates_with(options.rates_directory);
  Case c = case_from(options.case_path, rates, options.overrides);
  const std::vector<std::string> drawer_notes = lay_out_drawer(options.drawer_path, c);
  BuySettings settings = options.settings;
  for (const std::string& wanted : options.pieces) {
    const WantedPieces next = wanted_pieces(wanted, c);
    for (const WantedPieces& known : settings.pieces) {
      if (known.part == next.part) throw UsageError(fmt::format("--pieces names '{}' twice", next.part));
    }
    settings.pieces.push_back(next);
  }
  const auto beside = answers_beside(c, [&](const Case& other) { return buy(other, rates, settings); });
  Buying b = buy(c, rates, settings);
  b.notes.insert(b.notes.end(), drawer_notes.begin(), drawer_notes.end());
  out.write(options.page.format == Format::json ? buying_json(b, beside) : buying_page(b, style, beside), streams);
  return answered;
}

}  // namespace mendworth::cli
