#pragma once

#include "cli/commands.hpp"

namespace CLI {
class App;
}

namespace mendworth::cli {

/// Adds the command 'rows', which fills `options`; they must outlive the parsing.
void add_rows(CLI::App& app, RowsOptions& options);

}  // namespace mendworth::cli
