#include <fmt/format.h>

#include <algorithm>

#include "cli/commands.hpp"
#include "cli/exit_code.hpp"
#include "cli/progress_line.hpp"
#include "cli/vary.hpp"
#include "input/suggest.hpp"
#include "mendworth/buy.hpp"
#include "mendworth/render.hpp"
#include "mendworth/shared_order.hpp"

namespace mendworth::cli {

namespace {

constexpr int most_baskets = 50;

const char* const buy_examples =
    "Several cases are jobs that share one order: which of them to repair, what to\n"
    "order for all of these, and what each pays. Suppliers of one name are one, and\n"
    "so are parts whose names and candidates agree. --show then knows: jobs, order,\n"
    "split, hazards, notes.\n\n"
    "Examples:\n"
    "  mendworth buy case.toml\n"
    "  mendworth buy desk.toml lamp.toml radio.toml\n"
    "  mendworth buy case.toml --pieces \"key switch=12\"\n"
    "  mendworth buy case.toml --quotation offer.csv\n"
    "  mendworth buy case.toml --set supplier.2.exchange_rate=1.2\n\n";

struct BuyOptions : CaseInput {
  std::vector<std::string> shared_paths;  ///< further cases, which share the order
  PageOptions page;
  std::vector<std::string> pieces;  ///< "PART=N"
  std::vector<VariedKey> vary;      ///< a curve in place of the answer
  BuySettings settings;             ///< `pieces` come from above
};

// "PART=N"; a part's name may hold '=', a number may not.
WantedPieces wanted_pieces(const std::string& text, const Case& c) {
  constexpr std::uint64_t most = 1'000'000;
  const std::size_t equals = text.rfind('=');
  const auto number =
      equals == std::string::npos ? std::nullopt : whole_number(text.substr(equals + 1), 1, most);
  if (!number || equals == 0) {
    throw UsageError(fmt::format(
        "--pieces wants PART=N with a whole number from 1 to {}, for instance --pieces \"{}=12\", not '{}'",
        most, c.parts.front().name, text));
  }
  WantedPieces wanted{.part = text.substr(0, equals), .pieces = static_cast<int>(*number)};
  std::vector<std::string> names;
  for (const Part& part : c.parts) {
    if (part.name == wanted.part) return wanted;
    names.push_back(part.name);
  }
  throw UsageError(input::with_suggestion(fmt::format("--pieces: the case has no part '{}'", wanted.part),
                                          wanted.part, names));
}

BuySettings settings_for(const BuyOptions& options, const Case& c) {
  BuySettings settings = options.settings;
  for (const std::string& wanted : options.pieces) {
    const WantedPieces next = wanted_pieces(wanted, c);
    for (const WantedPieces& known : settings.pieces) {
      if (known.part == next.part) throw UsageError(fmt::format("--pieces names '{}' twice", next.part));
    }
    settings.pieces.push_back(next);
  }
  return settings;
}

/// One order for all cases.
int buy_together(const BuyOptions& options, const Streams& streams, const Surroundings& surroundings) {
  if (!options.vary.empty()) throw UsageError("--vary goes with one case");
  if (!options.pieces.empty()) throw UsageError("--pieces goes with one case");
  std::vector<std::string> paths{options.case_path};
  paths.insert(paths.end(), options.shared_paths.begin(), options.shared_paths.end());
  if (std::ranges::find(paths, "-") != paths.end())
    throw UsageError("with several cases nothing is read from standard input");
  std::vector<std::optional<std::string>> inputs(paths.begin(), paths.end());
  inputs.insert(inputs.end(), options.joined.paths.begin(), options.joined.paths.end());
  inputs.push_back(options.drawer_path);
  AnswerOutput out(options.page, shared_order_sections(), inputs, surroundings);
  std::vector<Case> cases;
  std::vector<std::string> notes;
  for (const std::string& path : paths) {
    CaseInput input = options;
    input.case_path = path;
    CaseRead read = case_from(input);
    cases.push_back(std::move(read.c));
    for (const std::string& note : read.notes) notes.push_back(fmt::format("{}: {}", path, note));
  }
  const BuySettings& settings = options.settings;
  SharedOrder answer =
      shared_order(cases, rates_with(options.rates_directory),
                   {.seed = settings.seed, .futures = settings.futures, .threads = settings.threads});
  answer.notes.insert(answer.notes.end(), notes.begin(), notes.end());
  out.write(answer, shared_order_page, shared_order_json, streams);
  return answered;
}

int buy_command(const BuyOptions& options, const Streams& streams, const Surroundings& surroundings) {
  if (!options.shared_paths.empty()) return buy_together(options, streams, surroundings);
  ProgressLine progress(surroundings.err_is_terminal, streams.err);
  const auto answer_of = [&](const Case& c, const RateBook& rates) {
    BuySettings settings = settings_for(options, c);
    settings.progress = [&](double done) {
      progress.tell([done] { return std::optional(done); },
                    [](double) { return std::string("searching for the best basket"); });
    };
    return buy(c, rates, settings);
  };
  if (!options.vary.empty()) {
    write_curve(options, curve_of("buy", "net cost", options.settings, options.vary), options.page, answer_of,
                streams, surroundings);
    return answered;
  }
  std::vector<std::optional<std::string>> inputs(options.joined.paths.begin(), options.joined.paths.end());
  inputs.insert(inputs.end(), {options.case_path, options.drawer_path});
  AnswerOutput out(options.page, buying_sections(), inputs, surroundings);
  const CaseRead read = case_from(options);
  const auto noted = [&](const Case& c) {
    Buying b = answer_of(c, read.rates);
    b.notes.insert(b.notes.end(), read.notes.begin(), read.notes.end());
    return b;
  };
  const Compared<Buying> answer{noted(read.c), answers_beside(read.c, noted)};
  progress.clear();
  out.write(answer, streams);
  return answered;
}

}  // namespace

RunCommand set_up_buy(OptionSet& set) {
  const auto options = std::make_shared<BuyOptions>();
  set.examples(buy_examples);
  add_case_argument(set, *options);
  set.texts({"shared", "CASE", "Further cases, repaired with the same order"}, options->shared_paths);
  add_page_options(set, options->page, buying_sections());
  set.texts({"--pieces", "PART=N",
             "Pieces wanted of a part, in place of what the\nbest repair needs; may be repeated"},
            options->pieces);
  set.converted({"--baskets", "N", "Baskets to list (default 5)"},
                number_into(options->settings.baskets, 1, most_baskets));
  add_case_options(set, *options);
  add_drawer_option(set, *options);
  add_quotation_options(set, options->joined);
  add_simulation_options(set, options->settings);
  add_vary_option(set, options->vary);
  add_out_option(set, options->page.out_path);
  return running(options, buy_command);
}

}  // namespace mendworth::cli
