#pragma once

#include "cli/commands.hpp"

namespace mendworth::cli {

/// Makes the pages of a kept record anew from what the record holds, prints the one that is asked for, and says whether
/// they are the pages kept, byte by byte: `answered`, else `bad_data`.
int quote_again(const QuoteOptions& options, const Streams& streams, const Surroundings& surroundings);

}  // namespace mendworth::cli
