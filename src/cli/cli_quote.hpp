#pragma once

#include "cli/commands.hpp"

namespace CLI {
class App;
}

namespace mendworth::cli {

/// Adds the command 'quote', which fills `options`; they must outlive the parsing.
void add_quote(CLI::App& app, QuoteOptions& options);

}  // namespace mendworth::cli
