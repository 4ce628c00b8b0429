#pragma once

#include "input/table_reader.hpp"
#include "mendworth/rates.hpp"

namespace mendworth {

/// Lays the tables of a rates document over `book`; problems are collected.
void read_rates(input::TableReader& document, RateBook& book);

/// That the names in default_names are entries of the book, whichever file they come from.
void check_default_names(const RateBook& book, input::Problems& problems);

}  // namespace mendworth
